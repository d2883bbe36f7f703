import { describe, expect, it } from 'vitest'
import { always, areasOf } from '../../src/gardens/areas-held.ts'
import { groundChange } from '../../src/gardens/ground-change.ts'

const beds = [
  { id: 'one', blockId: 'north', areas: always(80_000) },
  { id: 'two', blockId: null, areas: [{ from: '2024-03-01', areaCm2: 60_000 }] },
  { id: 'gone', blockId: null, areas: areasOf({ from: null, areaCm2: 50_000 }, [{ from: '2024-11-01', areaCm2: 0 }]) },
] as const
const fromDay = '2025-11-15'

describe('the ground of a garden changes on a day', () => {
  it('a bed is added, and is there from that day', () => {
    expect(groundChange(beds, { act: 'added', fromDay, name: 'Bed 3', areaCm2: 70_000 })).toEqual({
      kind: 'rows',
      bed: { name: 'Bed 3', areaCm2: 70_000, thereSince: fromDay, blockId: null },
      areas: [],
    })
  })

  it('a bed is made larger, and an area that it has already is no change', () => {
    const larger = groundChange(beds, { act: 'resized', fromDay, bedId: 'one', areaCm2: 95_000 })
    expect(larger).toEqual({ kind: 'rows', bed: null, areas: [{ bedId: 'one', fromDay, areaCm2: 95_000 }] })
    const alike = groundChange(beds, { act: 'resized', fromDay, bedId: 'one', areaCm2: 80_000 })
    expect(alike).toEqual({ kind: 'refused', field: 'areaCm2', code: 'alike' })
  })

  it('a part becomes a bed of its own in the same block, and the two have what the one had', () => {
    expect(groundChange(beds, { act: 'parted', fromDay, bedId: 'one', name: 'Bed 1b', areaCm2: 30_000 })).toEqual({
      kind: 'rows',
      bed: { name: 'Bed 1b', areaCm2: 30_000, thereSince: fromDay, blockId: 'north' },
      areas: [{ bedId: 'one', fromDay, areaCm2: 50_000 }],
    })
    const whole = groundChange(beds, { act: 'parted', fromDay, bedId: 'one', name: 'b', areaCm2: 80_000 })
    expect(whole).toEqual({ kind: 'refused', field: 'areaCm2', code: 'too large' })
  })

  it('two become one: the other is given up and the first has the ground of both', () => {
    expect(groundChange(beds, { act: 'joined', fromDay, bedId: 'one', otherId: 'two' })).toEqual({
      kind: 'rows',
      bed: null,
      areas: [
        { bedId: 'two', fromDay, areaCm2: 0 },
        { bedId: 'one', fromDay, areaCm2: 140_000 },
      ],
    })
    const itself = groundChange(beds, { act: 'joined', fromDay, bedId: 'one', otherId: 'one' })
    expect(itself).toEqual({ kind: 'refused', field: 'otherId', code: 'itself' })
  })

  it('a bed is given up, but not one that is gone, or another garden’s', () => {
    const given = (bedId: string) => groundChange(beds, { act: 'given up', fromDay, bedId })
    expect(given('two')).toEqual({ kind: 'rows', bed: null, areas: [{ bedId: 'two', fromDay, areaCm2: 0 }] })
    expect([given('gone'), given('elsewhere')]).toEqual([
      { kind: 'refused', field: 'bedId', code: 'not there' },
      { kind: 'refused', field: 'bedId', code: 'not there' },
    ])
  })

  it('a bed is parted again from the day of its last change, and changed in another way only later', () => {
    const again = { act: 'parted' as const, fromDay: '2024-03-01', bedId: 'two', name: 'Two b', areaCm2: 1 } as const
    expect(groundChange(beds, again).kind).toBe('rows')
    expect(groundChange(beds, { ...again, fromDay: '2024-02-29' })).toMatchObject({ kind: 'refused', code: 'later' })
  })

  it('a change before one that is written down already is corrected there instead', () => {
    const early = { act: 'resized' as const, fromDay: '2024-03-01', bedId: 'two', areaCm2: 1 } as const
    expect(groundChange(beds, early)).toEqual({ kind: 'refused', field: 'fromDay', code: 'later' })
    expect(groundChange(beds, { ...early, fromDay: '2024-03-02' }).kind).toBe('rows')
  })
})
