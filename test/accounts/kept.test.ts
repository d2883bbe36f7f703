import { describe, expect, it } from 'vitest'
import { Kept } from '../../src/accounts/kept.ts'

/** A store of so many bytes, and what it was asked to make, in order. */
function storeOf(mostBytes: number) {
  const kept = new Kept(mostBytes)
  const made: string[] = []
  const ask = (groupId: string, changes: number, name = 'record', bytes = 10) => {
    const make = async () => {
      made.push(`${groupId} ${changes} ${name}`)
      return `${groupId} at ${changes}`
    }
    return kept.of({ groupId, changes, name, make, bytesOf: () => bytes })
  }
  return { kept, made, ask }
}

describe('what is made of a group’s record is kept by the count of its changes', () => {
  it('is made once for all who ask meanwhile and afterwards, and anew after a change', async () => {
    const { ask, made } = storeOf(1000)
    expect(await Promise.all([ask('quern', 7), ask('quern', 7)])).toEqual(['quern at 7', 'quern at 7'])
    expect(await ask('quern', 7)).toBe('quern at 7')
    expect(await ask('quern', 8)).toBe('quern at 8')
    expect(await ask('quern', 8, 'table')).toBe('quern at 8')
    expect(made).toEqual(['quern 7 record', 'quern 8 record', 'quern 8 table'])
  })

  it('gives whoever still reads an earlier count theirs, and keeps the later one', async () => {
    const { ask, made } = storeOf(1000)
    await ask('quern', 8)
    expect(await ask('quern', 7)).toBe('quern at 7')
    expect(await ask('quern', 8)).toBe('quern at 8')
    expect(made).toEqual(['quern 8 record', 'quern 7 record'])
  })

  it('lets go of the groups that were asked for longest ago where memory is used up', async () => {
    const { ask, made, kept } = storeOf(25)
    for (const group of ['quern', 'mill', 'quern', 'dyke', 'quern', 'mill']) await ask(group, 1)
    expect(made).toEqual(['quern 1 record', 'mill 1 record', 'dyke 1 record', 'mill 1 record'])
    expect(kept.used).toBe(20)
    await ask('quern', 2, 'record', 40)
    expect(kept.used).toBe(0)
  })

  it('keeps nothing of what failed', async () => {
    const { kept } = storeOf(1000)
    const asked = { groupId: 'quern', changes: 1, name: 'record', bytesOf: () => 10 }
    await expect(kept.of({ ...asked, make: () => Promise.reject(new Error('away')) })).rejects.toThrow('away')
    expect(await kept.of({ ...asked, make: () => 'back' })).toBe('back')
  })

  it('whoever waited for what failed makes it', async () => {
    const { kept } = storeOf(1000)
    const asked = { groupId: 'quern', changes: 1, name: 'record', bytesOf: () => 10 }
    const first = kept.of({ ...asked, make: () => Promise.reject(new Error('away')) })
    const others = [kept.of({ ...asked, make: () => 'theirs' }), kept.of({ ...asked, make: () => 'another' })]
    await expect(first).rejects.toThrow('away')
    expect(await Promise.all(others)).toEqual(['theirs', 'theirs'])
  })
})
