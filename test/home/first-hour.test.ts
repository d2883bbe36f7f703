import { afterAll, beforeAll, expect, it } from 'vitest'
import { makeDemo } from '../../src/demo/making.routes.ts'
import { always } from '../../src/gardens/areas-held.ts'
import { kilogramsPage } from '../../src/home/kilograms.page.ts'
import { missingTwins, runningGrams } from '../../src/home/season-so-far.ts'
import { dayIn } from '../../src/quantities/dates.ts'
import type { IsoWeek } from '../../src/quantities/iso-week.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

it('an empty group is led to its gardens, and nothing else is on the page', async () => {
  const keeper = await place.keeper()
  const text = (await keeper.get(`/g/${keeper.slug}`)).text
  expect(plain(text)).toContain('Next: Your gardens and how each is grown')
  expect(text).toContain(`href="/g/${keeper.slug}/setting-up"`)
  expect(plain(text)).not.toContain('0.00')
  expect(plain(text)).not.toContain('Waiting for someone')
})

it('the running season of the example shows its week, what waits, and kilograms beside the season before', async () => {
  await makeDemo(place.database, dayIn('Pacific/Auckland', new Date()), false)
  const page = await place.guest().get('/g/quern-hill')
  const text = plain(page.text)
  expect(text).toContain('Waiting for someone')
  expect(text).toMatch(/Finish the hours of Hay Meadow, week \d{1,2}|No season runs/)
  expect(text).toContain('Order the compost in June')
  expect(page.text.match(/class="course-before"/g)?.length ?? 0).toBe(5)
  // A guest corrects nothing.
  expect(text).not.toContain('correct, ')
  expect(rowOf(page.text, 'Lower Terrace').join(' ')).not.toMatch(/\b0\.00\b/)
})

it('grams add up week by week as far as the day, and not beyond the season', () => {
  const season = { startsOn: '2026-08-03', endsOn: '2026-08-30' } as const
  const grams = new Map([
    ['2026-W33', 500],
    ['2026-W34', 250],
  ])
  expect(runningGrams(grams, season, '2026-08-20')).toEqual([0, 500, 750])
  expect(runningGrams(grams, season, '2027-01-01')).toEqual([0, 500, 750, 750])
  expect(runningGrams(grams, season, '2026-07-01')).toEqual([])
})

it('small pictures share one scale: half the grams stand half as high', () => {
  const course = (grams: number) => ({ garden: 'a', now: [0, grams], before: [] })
  const [high, low] = kilogramsPage([course(1000), course(500)], 2, 'en')
  const top = (points: string | undefined) => Number(points?.split(' ').at(-1)?.split(',')[1])
  const base = high?.base ?? 0
  expect((base - top(high?.now)) / (base - top(low?.now))).toBeCloseTo(2, 5)
})

it('a twin is asked for where it stands and was not picked, and not where it is lost or cleared', () => {
  const planting = (id: string, bedId: string, weeks: readonly IsoWeek[], cleared = false) => ({
    ...{
      id,
      bedId,
      seasonId: 's',
      crop: 'kale',
      cultivar: 'Raven',
      matchedSetId: 'set',
      areaCm2: 1,
      purpose: 'harvest',
    },
    ...{ cleared, marketableG: 0, unmarketableG: 0 },
    weighed: weeks.map((isoWeek) => ({ isoWeek, marketableG: 1, unmarketableG: 0 })),
  })
  const beds = ['1', '2', '3', '4', '5'].map((id) => ({ id, gardenId: id, areas: always(1) }))
  const gardens = beds.map(({ id }) => ({ id, name: `Garden ${id}`, areas: always(1) }))
  const week = '2026-W40'
  const record = {
    ...{ seasons: [], methods: [], assignments: [], labour: [], spreadings: [], closings: [], beds, gardens },
    plantings: [
      ...[planting('a', '1', [week]), planting('b', '2', [week]), planting('c', '3', [])],
      ...[planting('d', '4', []), planting('e', '5', [], true)],
    ],
    losses: [{ plantingId: 'd', lostOn: '2026-09-01', sharePermille: 1000 }],
  } as const
  expect(missingTwins(record, 's', [week])).toEqual([{ crop: 'kale', week, picked: 2, missing: ['Garden 3'] }])
  expect(missingTwins(record, 's', ['2026-W41'])).toEqual([])
})
