import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { weatherPage } from '../../src/notes/weather.page.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { aDay } from '../support/calendar.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let recorder: Client
let at: string
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  recorder = await place.joined(trial.keeper, 'recorder')
  at = `${trial.base}/weather`
})
afterAll(() => place.close())

const station = 'Quern Hill'
const file = (text: string) => ({ name: 'days.csv', bytes: Buffer.from(text) })

/** Ten days from 1 October 2025, each 6 to 18 degrees with 1.5 mm; and the same with two lines that are wrong. */
const days = Array.from({ length: 10 }, (_, i) => `2025-10-${String(i + 1).padStart(2, '0')},6,18,1.5`)
const text = ['Date,Tmin,Tmax,Rain,Wind', ...days.map((day) => `${day},4`)].join('\n')
const withWrong = [text, '2025-10-11,20,18,0,4', 'soon,,,,'].join('\n')

/** What the page before storing holds for the next form. */
const carried = (html: string) => {
  const held = /<textarea hidden[^>]*>\n?([\s\S]*?)<\/textarea>/.exec(html)?.[1] ?? ''
  return held.replaceAll('&#39;', "'").replaceAll('&amp;', '&')
}

it('while a line is wrong every wrong line is said and nothing of the file can be stored', async () => {
  const preview = await recorder.upload(`${at}/preview`, { station }, file(withWrong))
  const stored = await recorder.post(at, { station, pasted: withWrong })
  expect([preview.status, stored.status]).toEqual([200, 422])
  for (const { text: html } of [preview, stored]) {
    expect(plain(html)).toContain('Nothing of this file can be stored while a line of it is wrong.')
    expect(rowOf(html, '12')).toEqual(['12', 'Tmin', '20', 'the minimum is over the maximum'])
    expect(rowOf(html, '13')).toEqual(['13', 'Date', 'soon', 'not a day of the calendar: write it as 2026-01-05'])
    expect(html).not.toContain('<textarea hidden')
  }
  expect(plain((await recorder.get(at)).text)).toContain('No weather is written down yet.')
})

it('nothing is stored until it was looked at; the same file twice adds nothing', async () => {
  const preview = await recorder.upload(`${at}/preview`, { station }, file(text))
  expect(preview.status).toBe(200)
  const said = plain(preview.text)
  expect(said).toContain('New: 10 days, from 1 October 2025 to 10 October 2025.')
  expect(said).toContain('Columns that are not read: Wind.')
  expect(plain((await recorder.get(at)).text)).toContain('No weather is written down yet.')

  const stored = await recorder.post(at, { station, pasted: carried(preview.text) })
  expect(stored.status).toBe(303)
  const page = (await recorder.get(`${at}?base=10`)).text
  expect(rowOf(page, '1 October 2025').slice(0, 4)).toEqual(['1 October 2025', '6.0', '18.0', '1.5'])
  // 10 days of (6 + 18) / 2 - 10 = 2; by the sine (6 cos(a) + 2 (pi / 2 + a)) / pi with sin a = 1 / 3: 3.017 a day.
  expect(plain(page)).toContain('Rain: 15.0 mm, on 10 days; degree days over 10 °C: 20 by the average, 30 by the sine')

  const again = await recorder.upload(`${at}/preview`, { station }, file(text))
  expect(plain(again.text)).toContain('It holds no day that is new.')
  expect(plain(again.text)).toContain('with the same figures, and not added again: 10 days')
  expect(again.text).not.toContain('<textarea hidden')
  await recorder.post(at, { station, pasted: text })
  const rows = (await recorder.get(at)).text.match(/correct\/weather-days\//g)
  expect(rows).toHaveLength(10)
})

it('programs read the days of a station between two days, in tenths', async () => {
  const csv = (await recorder.get(`${at}.csv?station=Quern%20Hill&from=2025-10-02&to=2025-10-03`)).text
  const head = 'station,day,minimumTenthsC,maximumTenthsC,rainTenthsMm'
  expect(csv.trim().split('\r\n')).toEqual([head, 'Quern Hill,2025-10-02,60,180,15', 'Quern Hill,2025-10-03,60,180,15'])
  const json = await recorder.json<{ schemaVersion: number; days: unknown[] }>(`${at}.json`)
  expect([json.schemaVersion, json.days.length]).toEqual([1, 10])
})

it('pasted rows with other figures of a day that stands change nothing and are named', async () => {
  const pasted = 'day\tmin\tmax\train\n2025-10-01\t5\t18\t1,5\n2025-10-12\t8\t20\t0'
  const preview = (await recorder.post(`${at}/preview`, { station, pasted })).text
  expect(plain(preview)).toContain('Written down already with other figures: 1 day.')
  expect(plain(preview)).toContain('1 October 2025')
  await recorder.post(at, { station, pasted })
  const page = (await recorder.get(at)).text
  expect(rowOf(page, '1 October 2025')[1]).toBe('6.0')
  expect(rowOf(page, '12 October 2025').slice(1, 4)).toEqual(['8.0', '20.0', '0.0'])
})

it('a planting has its rain and warmth while it stood, and what is missing stands beside it', async () => {
  const planting = Object.entries(trial.plantings).find(([name]) => name.startsWith('carrot') && name.includes('Lower'))
  const cleared = { plantingId: planting?.[1], clearedOn: '2025-10-12' }
  expect((await trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, cleared)).status).toBe(303)
  const page = (await recorder.get(`${at}?base=10`)).text
  // Eleven of twelve days are known: ten of 2 degree days and one of 4; by the sine ten of 3.017 and one of 4.353.
  expect(rowOf(page, 'carrot, Kestrel')).toEqual([
    ...['carrot, Kestrel', 'Lower Terrace, Bed 1', '1 October 2025', '12 October 2025'],
    ...['at least 15.0 1 day not known', 'at least 24 1 day not known', 'at least 35'],
  ])
  const window = plain((await recorder.get(`${at}?base=10&from=2025-10-01&to=2025-10-05`)).text)
  expect(window).toContain('From 1 October 2025 to 5 October 2025, 5 days')
  expect(window).toContain('Rain: 7.5 mm, on 5 days; degree days over 10 °C: 10 by the average')
})

it('what was raised elsewhere counts from the day it was planted out', async () => {
  const at = `${trial.base}/seasons/${trial.season}`
  const choices = choicesIn((await trial.keeper.get(at)).text)
  const beds = { [trial.gardens.bank ?? '']: choices(`beds[${trial.gardens.bank}]`)['Bed 2'] ?? '' }
  const raised = { id: newId(), cropId: choices('cropId').leek, cultivar: 'Moor', areaCm2: '2', how: 'transplanted' }
  const when = { sownOn: '2025-08-01', plantedOn: '2025-10-09', purpose: 'harvest', beds }
  expect((await trial.keeper.post(`${at}/plantings`, { ...raised, ...when })).status).toBe(303)
  const row = rowOf((await recorder.get(`${trial.base}/weather?base=10`)).text, 'leek, Moor')
  expect(row.slice(2, 5)).toEqual(['9 October 2025', 'so far', expect.stringContaining('at least 3.0')])
})

it.each([
  ['?base=warm', 'Please write a number'],
  ['?base=90', 'Write a number from -20 to 40.'],
  ['?from=2025-10-05&to=2025-10-01', 'The last day must not be before the first.'],
])('an address that asks for what cannot be is told so: %s', async (query, sentence) => {
  const answer = await recorder.get(`${at}${query}`)
  expect(answer.status).toBe(422)
  expect(plain(answer.text)).toContain(sentence)
})

it('a file without a day, an empty one and one over 1 MB are refused in words', async () => {
  const preview = (bytes: string) => recorder.upload(`${at}/preview`, { station }, file(bytes))
  const unnamed = await preview('when,min\n2025-10-01,3')
  expect(unnamed.status).toBe(422)
  expect(plain(unnamed.text)).toContain('No column is called day or date. These were found: when, min.')
  expect(plain((await preview('')).text)).toContain('There is nothing to read')
  const large = await preview(`${text}\n${'2025-10-01,6,18,1.5,4\n'.repeat(50_000)}`)
  expect(large.status).toBe(422)
  expect(plain(large.text)).toContain('This file is larger than 1 MB.')
})

it('a day is corrected and removed by a recorder, and the same day can then be brought in anew', async () => {
  const page = (await recorder.get(at)).text
  const id = /correct\/weather-days\/([0-9a-f-]+)"[^>]*>Correct<span class="unseen"> 2 October 2025/.exec(page)?.[1]
  const address = `${trial.base}/correct/weather-days/${id}`
  const wrong = { minimumTenthsC: '19', maximumTenthsC: '18', rainTenthsMm: '0', version: '1' }
  expect((await recorder.post(address, wrong)).status).toBe(422)
  const right = { ...wrong, minimumTenthsC: '-2,5', rainTenthsMm: '' }
  expect((await recorder.post(address, right)).status).toBe(303)
  expect(rowOf((await recorder.get(at)).text, '2 October 2025').slice(1, 4)).toEqual(['−2.5', '18.0', 'not known'])
  expect((await recorder.post(`${address}/removal`, { version: '2', reason: 'Other station' })).status).toBe(303)
  await recorder.post(at, { station, pasted: text })
  expect(rowOf((await recorder.get(at)).text, '2 October 2025').slice(1, 4)).toEqual(['6.0', '18.0', '1.5'])
})

it('three years at once are stored whole, and offer no undo that would take back a part', async () => {
  const lines = Array.from({ length: 1100 }, (_, i) => {
    const day = new Date(Date.UTC(2020, 0, 1 + i)).toISOString().slice(0, 10)
    return `${day},5,15,0`
  })
  const pasted = ['day,min,max,rain', ...lines].join('\n')
  const stored = await recorder.post(at, { station: 'Second station', pasted })
  const page = (await recorder.get(stored.location)).text
  expect(plain(page)).toContain('Stored: 1100 days.')
  expect(page).not.toContain('/undo"')
  // A page of a ledger; the whole is in the file.
  expect(page.match(/correct\/weather-days\//g)).toHaveLength(100)
  expect(plain(page)).toContain('The latest 100 of 1100 days')
  const few = await recorder.post(at, { station: 'Third station', pasted: 'day,rain\n2025-10-01,3' })
  expect((await recorder.get(few.location)).text).toContain('/undo"')
})

it('says what the running season had, beside the same days of earlier ones that are wholly known', () => {
  const day = (on: IsoDate, rainTenthsMm: number | null) => ({
    id: on,
    station: 'Quern Hill',
    day: on,
    minimumTenthsC: 80,
    maximumTenthsC: 160,
    rainTenthsMm,
  })
  const season = (year: number) => ({
    id: String(year),
    name: `${year}/${year + 1 - 2000}`,
    startsOn: aDay(`${year}-08-01`),
    endsOn: aDay(`${year + 1}-07-31`),
  })
  const weather = [
    // The rain of a day is not known: this season is not held beside.
    ...[day('2023-08-01', 90), day('2023-08-02', null), day('2023-08-03', 90)],
    ...[day('2024-08-01', 10), day('2024-08-02', 20), day('2024-08-03', 30), day('2024-08-04', 900)],
    ...[day('2025-08-01', 40), day('2025-08-02', 0), day('2025-08-03', 10)],
  ]
  const rows = { weather, seasons: [2023, 2024, 2025].map(season), plantings: [], beds: [], gardens: [] }
  const asked = { station: null, base: 5, from: null, to: null, season: null }
  // By hand: 4 + 0 + 1 = 5 mm; (8 + 16) / 2 - 5 = 7 degree days a day, 21 in three; the year before 1 + 2 + 3 = 6 mm.
  expect(weatherPage(rows, asked, '2025-08-03', 'en-NZ').sofar).toMatchObject({
    season: '2025/26',
    day: '3 August 2025',
    now: { rain: '5.0', average: '21', rainMissing: 0 },
    earlier: 1,
    rain: { low: '6', high: '6' },
    warmth: { low: '21', high: '21' },
  })
})
