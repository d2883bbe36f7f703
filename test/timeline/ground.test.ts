import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const at = (garden = trial.gardens.bank) => `${trial.base}/gardens/${garden}/ground`
const act = (kind: string, fields: Record<string, string>, garden?: string) =>
  trial.keeper.post(`${at(garden)}/${kind}`, { id: newId(), ...fields })
const bedNamed = async (name: string, garden?: string) => {
  const beds = choicesIn((await trial.keeper.get(at(garden))).text)('bedId')
  return Object.entries(beds).find(([label]) => label.startsWith(name))?.[1] ?? ''
}
interface Compared {
  readonly methods: readonly { method: string; totals: { bedAreaCm2: number; grossAreaCm2: number } }[]
}
const compared = async (season = trial.season) =>
  trial.keeper.json<Compared>(`${trial.base}/compare.json?season=${season}`)
const areasOf = async () =>
  (await compared()).methods
    .map(({ totals }) => [totals.bedAreaCm2, totals.grossAreaCm2])
    .sort((a, b) => (a[0] ?? 0) - (b[0] ?? 0))

it('a bed added within a season counts for the days that it was there', async () => {
  // 304 days from 1 August to 31 May; 5 m2 on the last 76 of them are 1.25 m2.
  expect(await areasOf()).toEqual([
    [200_000, 300_000],
    [300_000, 400_000],
  ])
  expect((await act('added', { name: 'Bed 3', areaCm2: '5', fromDay: '2026-03-17' })).status).toBe(303)
  expect(await areasOf()).toEqual([
    [200_000, 300_000],
    [312_500, 400_000],
  ])
  const page = plain((await trial.keeper.get(at())).text)
  expect(page).toContain('Bed 3 was added: 5.0 m²')
})

it('a part that becomes a bed, two that become one and one given up leave the ground that there was', async () => {
  await act('parted', { bedId: await bedNamed('Bed 2'), name: 'Bed 2b', areaCm2: '6', fromDay: '2026-04-01' })
  expect((await areasOf())[1]).toEqual([312_500, 400_000])
  await act('joined', { bedId: await bedNamed('Bed 2,'), otherId: await bedNamed('Bed 2b'), fromDay: '2026-04-20' })
  expect((await areasOf())[1]).toEqual([312_500, 400_000])
  await act('resized', { bedId: await bedNamed('Bed 2,'), areaCm2: '15,4', fromDay: '2026-05-31' })
  await act('gross', { areaCm2: '43,04', fromDay: '2026-05-31' })
  // The last day of 304: 4,000 cm2 more of bed are 13 and a bit, 30,400 cm2 more of ground are 100.
  expect((await areasOf())[1]).toEqual([312_513, 400_100])
  const page = plain((await trial.keeper.get(at())).text)
  expect(page).toContain('Bed 2b was given up; it had 6.0 m².')
  expect(page).toContain('Bed 2 became smaller: 9.0 m², before that 15.0 m².')
  expect(page).toContain('The garden has 43.0 m² with its paths, before that 40.0 m².')
})

it('refuses what cannot be, each at its field', async () => {
  const planted = await act('given-up', { bedId: await bedNamed('Bed 1'), fromDay: '2026-05-01' })
  expect([planted.status, plain(planted.text)]).toEqual([422, expect.stringContaining('would have no room')])
  const early = await act('resized', { bedId: await bedNamed('Bed 2'), areaCm2: '1', fromDay: '2026-04-02' })
  expect(plain(early.text)).toContain('correct that one, or say a later day')
  const large = await act('added', { name: 'Bed 9', areaCm2: '900', fromDay: '2026-05-02' })
  expect(plain(large.text)).toContain('larger than their garden on some day')
  const twice = await act('added', { name: 'Bed 3', areaCm2: '1', fromDay: '2026-05-02' })
  expect(plain(twice.text)).toContain('There is one of this name already.')
  const blank = await act('added', { name: 'Bed 9', areaCm2: '1', fromDay: '' })
  expect(blank.status).toBe(422)
})

it('nothing stands in a bed before it was there', async () => {
  const page = (await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text
  const bed = choicesIn(page)(`beds[${trial.gardens.bank}]`)['Bed 3'] ?? ''
  const fields = { cropId: choicesIn(page)('cropId').chard ?? choicesIn(page)('cropId').carrot, cultivar: 'Kestrel' }
  const planting = {
    ...fields,
    areaCm2: '2',
    how: 'direct',
    purpose: 'harvest',
    beds: { [trial.gardens.bank ?? '']: bed },
  }
  const sown = (sownOn: IsoDate) =>
    trial.keeper.post(`${trial.base}/seasons/${trial.season}/plantings`, { id: newId(), sownOn, ...planting })
  expect((await sown('2026-03-16')).status).toBe(422)
  expect((await sown('2026-03-17')).status).toBe(303)
})

it('an area is corrected on a page of its own', async () => {
  const page = (await trial.keeper.get(at())).text
  const [, link] = /href="([^"]*correct\/bed-areas\/[^"]*)"/.exec(page) ?? []
  const form = (await trial.keeper.get(link ?? '')).text
  expect(form).toContain('value="2026-05-31"')
  const version = /name="version" value="(\d+)"/.exec(form)?.[1] ?? ''
  const corrected = await trial.keeper.post(link ?? '', { version, fromDay: '2026-05-30', areaCm2: '15,4' })
  expect(corrected.status).toBe(303)
  expect((await areasOf())[1]).toEqual([312_526, 400_100])
})
