import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { type Gone, type Twin, twinsMissing, twinsStanding } from '../../src/seasons/twins.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

/** "Kestrel a": a cultivar in the one bed of a garden. */
const stood = (words: string, more: Partial<Twin> = {}): Twin => {
  const [cultivarId = '', bedId = ''] = words.split(' ')
  const usual = { id: words, seasonId: 's', cultivarId, bedId, matchedSetId: cultivarId }
  return { ...usual, purpose: 'harvest', clearedOn: null, ...more }
}
const ground = {
  seasonId: 's',
  gardens: ['a', 'b', 'c', 'd'].map((id) => ({ id, name: id.toUpperCase() })),
  beds: ['a', 'b', 'c', 'd'].map((id) => ({ id, gardenId: id })),
  assignments: [
    { seasonId: 's', gardenId: 'a' },
    { seasonId: 's', gardenId: 'b' },
    { seasonId: 'before', gardenId: 'd' },
  ],
}

describe('twins in other gardens', () => {
  it('are missing in gardens that take part in the season, and in no others', () => {
    const plantings = [stood('Kestrel a'), stood('Heron a'), stood('Heron b'), stood('Heron c')]
    const found = twinsMissing({ ...ground, plantings })
    // Garden d takes part in another season only; c takes part because something is planted there.
    expect(found.map((one) => [one.planting.id, one.there, one.missing])).toEqual([['Kestrel a', ['A'], ['B', 'C']]])
  })

  it('are not asked for where it is not for harvest or of another season', () => {
    const plantings = [stood('Mustard a', { purpose: 'green manure' }), stood('Kestrel a', { seasonId: 'before' })]
    expect(twinsMissing({ ...ground, plantings })).toEqual([])
  })

  it('still stand where one was cleared or wholly lost, until none of the set does', () => {
    const set = [stood('Kestrel a', { clearedOn: '2026-02-20' }), stood('Kestrel b'), stood('Kestrel c')] as const
    const inWords = (plantings: readonly Twin[], lost: readonly Gone[] = []) =>
      twinsStanding(plantings, 's', lost).map(
        (one) => `${one.planting.id} ${one.how} ${one.on}: ${one.standing.map(({ id }) => id)}`,
      )
    expect(inWords(set)).toEqual(['Kestrel a cleared 2026-02-20: Kestrel b,Kestrel c'])
    const lost = [{ plantingId: 'Kestrel b', lostOn: '2026-01-10' }] as const
    expect(inWords(set, lost)).toEqual([
      'Kestrel a cleared 2026-02-20: Kestrel c',
      'Kestrel b lost 2026-01-10: Kestrel c',
    ])
    expect(inWords(set.map((one) => ({ ...one, clearedOn: '2026-02-20' })))).toEqual([])
    expect(inWords([stood('Heron a', { clearedOn: '2026-02-20', matchedSetId: null }), stood('Heron b')])).toEqual([])
  })
})

let place: Place
let trial: Trial
const season = () => `${trial.base}/seasons/${trial.season}`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

it('a cultivar planted alone is asked for in the other gardens', async () => {
  const choices = choicesIn((await trial.keeper.get(season())).text)
  const { lower = '', bank = '' } = trial.gardens
  const bed = (garden: string) => choices(`beds[${garden}]`)['Bed 2'] ?? ''
  const plant = async (beds: Record<string, string>, sownOn = '2025-10-08') => {
    const usual = { id: newId(), cropId: choices('cropId').beetroot, cultivar: 'Tern', areaCm2: '1', how: 'direct' }
    const saved = await trial.keeper.post(`${season()}/plantings`, {
      ...{ ...usual, sownOn, purpose: 'harvest', beds },
    })
    return plain((await trial.keeper.get(saved.location)).text)
  }
  const plan = async () => plain((await trial.keeper.get(`${season()}/plan`)).text)
  expect(await plan()).toContain('Every cultivar for harvest stands in every garden of this season.')
  expect(await plant({ [lower]: bed(lower) })).toContain('Saved. It is not in Long Bank: plant it there too')
  expect(await plan()).toContain('beetroot, Tern: in Lower Terrace; not in Long Bank.')
  expect(plain((await trial.keeper.get(season())).text)).toContain(
    'beetroot, Tern: in Lower Terrace; not in Long Bank.',
  )
  const both = await plant({ [bank]: bed(bank) })
  expect([both.includes('Saved.'), both.includes('It is not in')]).toEqual([true, false])
  // Sown once more in one garden only, it has no twin for that sowing.
  const again = await plant({ [lower]: bed(lower) }, '2025-10-29')
  expect(again).toContain('Saved. In Long Bank it was sown or planted fewer times: do it there too')
  expect(await plant({ [bank]: bed(bank) }, '2025-10-29')).not.toContain('fewer times')
  const usual = { id: newId(), cropId: choices('cropId').beetroot, cultivar: 'Tern', areaCm2: '0.5', how: 'direct' }
  const when = {
    purpose: 'harvest',
    firstOn: '2025-11-10',
    everyDays: '14',
    times: '2',
    beds: { [lower]: bed(lower) },
  } as const
  const sown = await trial.keeper.post(`${season()}/plan/successions`, { ...usual, ...when })
  expect(plain((await trial.keeper.get(sown.location)).text)).toContain(
    'In Long Bank it was sown or planted fewer times',
  )
})

it('what was cleared or lost in one garden asks about what stands in the other', async () => {
  const said = async () => plain((await trial.keeper.get(season())).text)
  expect(await said()).not.toContain('Gone in one garden')
  const clear = (plantingId: string) =>
    trial.keeper.post(`${season()}/clearings`, { plantingId, clearedOn: '2026-02-20' })
  expect((await clear(plantingOf(trial, 'carrot', 'Lower Terrace'))).status).toBe(303)
  expect(await said()).toContain(
    'carrot, Kestrel: cleared in Lower Terrace, Bed 1 on 20 February 2026; still stands in Long Bank, Bed 1.',
  )
  const loss = { id: newId(), plantingId: plantingOf(trial, 'potato', 'Long Bank'), lostOn: '2026-01-28' } as const
  const lost = { ...loss, percent: '100', outside: 'no', cause: 'disease', alsoNextDoor: 'no' }
  const saved = await trial.keeper.post(`${trial.base}/weeks/2026-W05/losses`, lost)
  const week = async () => plain((await trial.keeper.get(saved.location)).text)
  expect(await week()).toContain(
    'Lost in one garden this week, and no loss is written down in another. Look there too: potato, Heron · Lower Terrace, Bed 1',
  )
  expect(await said()).toContain(
    'potato, Heron: lost in Long Bank, Bed 1 on 28 January 2026; still stands in Lower Terrace',
  )
  const there = { ...lost, id: newId(), plantingId: plantingOf(trial, 'potato', 'Lower Terrace'), percent: '20' }
  expect((await trial.keeper.post(`${trial.base}/weeks/2026-W05/losses`, there)).status).toBe(303)
  expect(await week()).not.toContain('Look there too')
  // The twin that is wholly lost since is not asked for when more is lost of the other.
  const later = { ...there, id: newId(), lostOn: '2026-02-04' } as const
  const after = await trial.keeper.post(`${trial.base}/weeks/2026-W06/losses`, later)
  expect(plain((await trial.keeper.get(after.location)).text)).not.toContain('Look there too')
  expect((await clear(plantingOf(trial, 'carrot', 'Long Bank'))).status).toBe(303)
  expect(await said()).not.toContain('carrot, Kestrel: cleared in')
})
