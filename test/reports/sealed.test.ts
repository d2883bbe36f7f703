import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'
import { shareReport, weigh, writeReport } from './reports.ts'

let place: Place
let trial: Trial
const week = '2026-W05'
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  // 8 kg by name in Lower Terrace, on 20 m² of bed: 0.40 kg a m². 6 kg under a label in Long Bank, on 30 m²: 0.20.
  await weigh(trial, '8')
  const labels = `${trial.base}/weeks/${week}/labels`
  await trial.keeper.post(labels, { id: newId(), plantingIds: [plantingOf(trial, 'carrot', 'Long')] })
  const label = rowOf((await trial.keeper.get(labels)).text, 'Long Bank, Bed 1: carrot, Kestrel')[1] ?? ''
  const weighed = { id: newId(), label, harvestedOn: '2026-01-28', marketable: '6' }
  expect((await trial.keeper.post(`${trial.base}/weeks/${week}/labelled`, weighed)).status).toBe(303)
})
afterAll(() => place.close())

const waiting = 'Weighings under labels that are not opened yet: 1. They are left out here'
const yields = (html: string) => rowOf(html, 'Marketable, kg per m² of bed').slice(1, 3)

/** What a guest reads of a report: the two yields, whether it says that weights wait, and how many weighings its rows hold. */
async function readOf(link: string) {
  const page = await place.guest().get(link)
  const rows = (await place.guest().get(`${link}/rows.csv?table=harvests`)).text
  return {
    ...{ yields: yields(page.text).map((cell) => /[\d.]+/.exec(cell)?.[0]), waits: plain(page.text).includes(waiting) },
    weighed: ['8000', '6000'].map((grams) => rows.split(/[\r\n,]/).includes(grams)),
  }
}

it('a weight under a sealed label is in no report and in none of its rows; a live one has it once it is opened', async () => {
  const links: Record<string, string> = {}
  for (const keeps of ['frozen', 'live']) {
    const { id, answer } = await writeReport(trial, { keeps, title: keeps, rowsAgreed: 'yes' })
    expect(answer.status).toBe(303)
    links[keeps] = await shareReport(trial, id)
  }
  const sealed = { yields: ['0.40', '0.00'], waits: true, weighed: [true, false] }
  expect(await readOf(links.frozen ?? '')).toEqual(sealed)
  expect(await readOf(links.live ?? '')).toEqual(sealed)

  const closing = { gardenId: trial.gardens.bank, what: 'weights' }
  expect((await trial.keeper.post(`${trial.base}/weeks/${week}/closings`, closing)).status).toBe(303)
  expect(await readOf(links.live ?? '')).toEqual({ yields: ['0.40', '0.20'], waits: false, weighed: [true, true] })
  expect(await readOf(links.frozen ?? '')).toEqual(sealed)
})
