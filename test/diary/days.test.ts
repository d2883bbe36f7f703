import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { addDays, dayIn } from '../../src/quantities/dates.ts'
import { weekOf } from '../../src/quantities/iso-week.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

async function oneGarden(keeper: Client) {
  const base = `/g/${keeper.slug}`
  const [site, method, garden] = [newId(), newId(), newId()]
  await keeper.post(`${base}/gardens/sites`, { id: site, name: 'Quern Hill' })
  await keeper.post(`${base}/gardens/methods`, { id: method, name: 'Compost mulch' })
  await keeper.post(`${base}/gardens/gardens`, { id: garden, siteId: site, name: 'Long Bank', grossAreaCm2: '40' })
  const beds = { id: newId(), gardenId: garden, count: '1', areaCm2: '20', name: 'Bed' }
  await keeper.post(`${base}/gardens/beds`, beds)
  const season = async (name: string, startsOn: IsoDate, endsOn: IsoDate) => {
    const id = newId()
    await keeper.post(`${base}/seasons`, { id, name, startsOn, endsOn })
    const lies = { phase: 'established', yearOfMethod: '1', how: 'choice', methodId: method }
    await keeper.post(`${base}/seasons/${id}/assignments`, { id: newId(), place: `garden:${garden}`, ...lies })
    return id
  }
  return { base, garden, season }
}

const hours = (garden: string, more: object) => ({
  ...{ id: newId(), place: `garden:${garden}`, task: 'weeding', time: '1', phase: '', workedOn: '' },
  ...more,
})

it('in a week astride two seasons a dated entry goes by its day and an undated one by the Thursday', async () => {
  const keeper = await place.keeper()
  const { base, garden, season } = await oneGarden(keeper)
  // 28 January 2026 is the Wednesday of 2026-W05.
  const before = await season('First', '2025-08-01', '2026-01-28')
  const after = await season('Second', '2026-01-29', '2026-05-31')
  const week = `${base}/weeks/2026-W05`
  await keeper.post(`${week}/hours`, hours(garden, { workedOn: '2026-01-27', time: '2' }))
  await keeper.post(`${week}/hours`, hours(garden, { workedOn: '2026-01-30', time: '4' }))
  await keeper.post(`${week}/hours`, hours(garden, { time: '8' }))
  const minutes = async (id: string) =>
    (
      await keeper.json<{ methods: { totals: { minutesWithoutHarvest: number } }[] }>(
        `${base}/compare.json?season=${id}`,
      )
    ).methods[0]?.totals.minutesWithoutHarvest
  expect(await minutes(before)).toBe(2 * 60)
  expect(await minutes(after)).toBe((4 + 8) * 60)
  expect(await minutes('all')).toBe(14 * 60)
})

it('a day that has begun in one time zone is still to come in another', async () => {
  const early = await place.keeper({ timeZone: 'Pacific/Kiritimati' })
  const late = await place.keeper({ timeZone: 'Pacific/Pago_Pago' })
  // 25 hours lie between the two, so the calendar never shows the same day in both.
  const today = dayIn('Pacific/Kiritimati', new Date())
  const answers = []
  for (const keeper of [early, late]) {
    const { base, garden, season } = await oneGarden(keeper)
    await season('This year', addDays(today, -100), addDays(today, 100))
    answers.push(await keeper.post(`${base}/weeks/${weekOf(today)}/hours`, hours(garden, { workedOn: today })))
  }
  expect(answers.map((answer) => answer.status)).toEqual([303, 422])
  expect(plain(answers[1]?.text ?? '')).toContain('This day is still to come')
})

it('a season over the new year takes the days on both sides of it', async () => {
  const keeper = await place.keeper()
  const { base, garden, season } = await oneGarden(keeper)
  const id = await season('2024/25', '2024-08-01', '2025-05-31')
  // 30 December 2024 is the Monday of 2025-W01 (ISO 8601).
  const answer = await keeper.post(`${base}/weeks/2025-W01/hours`, hours(garden, { workedOn: '2024-12-30' }))
  expect(answer.status).toBe(303)
  await keeper.post(`${base}/weeks/2025-W01/hours`, hours(garden, { workedOn: '2025-01-05', time: '2' }))
  const table = await keeper.json<{ methods: { totals: { minutesWithoutHarvest: number; weeks: number } }[] }>(
    `${base}/compare.json?season=${id}`,
  )
  expect(table.methods[0]?.totals.minutesWithoutHarvest).toBe(180)
  expect(table.methods[0]?.totals.weeks).toBe(44)
})
