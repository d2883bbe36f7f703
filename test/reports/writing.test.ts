import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { reports } from '../../src/reports/reports.table.ts'
import { openPlace, type Place } from '../support/app.ts'
import { groupNamed } from '../support/group.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'
import { shareReport, weigh, writeReport } from './reports.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  await weigh(trial, '8')
})
afterAll(() => place.close())

const yieldOn = (html: string) => rowOf(html, 'Marketable, kg per m² of bed')[1] ?? ''
const headingsOf = (html: string) => [...html.matchAll(/<h2>([^<]*)<\/h2>/g)].map((found) => found[1])
const open = (id: string) => trial.keeper.get(`${trial.base}/reports/${id}`)
const listed = async () => (await trial.keeper.get(`${trial.base}/reports`)).text

it('a keeper looks at a report first, and nothing is stored', async () => {
  const before = await listed()
  const { id, answer } = await writeReport(trial, { step: 'preview', title: 'Not yet', words: '**So** far.' })
  expect(answer.status).toBe(200)
  expect(answer.text).toContain('<strong>So</strong> far.')
  expect(yieldOn(answer.text)).toContain('0.40')
  expect(answer.text).toContain(`name="id" value="${id}"`)
  expect(answer.text).toContain('value="Not yet"')
  expect((await open(id)).status).toBe(404)
  expect(plain(await listed()).includes('Not yet')).toBe(plain(before).includes('Not yet'))
})

it('a draft is kept, written over and finished; then nothing in it changes', async () => {
  const { id } = await writeReport(trial, { step: 'draft', title: 'First try', sections: ['measures'] })
  const draft = (await open(id)).text
  expect(plain(draft)).toContain('This is a draft')
  expect(/value="measures" checked/.test(draft)).toBe(true)
  expect(/value="why" checked/.test(draft)).toBe(false)
  const version = /name="version" value="(\d+)"/.exec(draft)?.[1]
  await writeReport(trial, { id, version, step: 'draft', title: 'Second try', sections: ['measures', 'counting'] })
  await writeReport(trial, { id, version: String(Number(version) + 1), title: 'Second try', sections: ['measures'] })
  const frozen = (await open(id)).text
  expect(headingsOf(frozen)).toEqual(['All crops, as they were grown', 'The figures as files'])
  const late = await writeReport(trial, { id, title: 'Third try' })
  expect(late.answer.status).toBe(303)
  expect((await open(id)).text).toContain('<h1>Second try</h1>')
})

it('two keepers write one draft: the second is told and loses nothing typed', async () => {
  const { id } = await writeReport(trial, { step: 'draft', title: 'Ours' })
  const version = /name="version" value="(\d+)"/.exec((await open(id)).text)?.[1]
  await writeReport(trial, { id, version, step: 'draft', title: 'Hers' })
  const { answer } = await writeReport(trial, { id, version, step: 'draft', title: 'His' })
  expect(answer.status).toBe(409)
  expect(answer.text).toContain('value="His"')
  expect((await open(id)).text).toContain('value="Hers"')
})

it('a report without a part or a title is told so, with everything typed still there', async () => {
  const { answer } = await writeReport(trial, { title: '', sections: [], words: 'A dry fortnight.' })
  expect(answer.status).toBe(422)
  expect(answer.text).toContain('Please tick at least one part.')
  expect(answer.text).toContain('A dry fortnight.')
})

it('a season that is not there is said at its field, and two who begin the same later edition both keep theirs', async () => {
  const { answer } = await writeReport(trial, { season: newId(), words: 'A dry fortnight.' })
  expect([answer.status, answer.text.includes('A dry fortnight.')]).toEqual([422, true])
  expect(answer.text).toContain('Please choose one of the list.')
  const { id: after } = await writeReport(trial, { title: 'First' })
  const both = await Promise.all(['Hers', 'His'].map((title) => writeReport(trial, { after, step: 'draft', title })))
  for (const one of both) expect([303, 409]).toContain(one.answer.status)
  const stored = await listed()
  for (const [i, title] of ['Hers', 'His'].entries()) {
    const told = both[i]?.answer
    expect(told?.status === 303 ? stored : (told?.text ?? '')).toContain(title)
  }
})

it('a draft cannot be shared and a reader does not see into it', async () => {
  const { id } = await writeReport(trial, { step: 'draft', words: 'Between us.' })
  expect(await shareReport(trial, id)).toBe('')
  const reader = await place.joined(trial.keeper, 'reader')
  expect((await reader.get(`${trial.base}/reports/${id}`)).text).not.toContain('Between us.')
  expect((await reader.get(`${trial.base}/reports/${id}.json`)).status).toBe(404)
})

it('a live report shows the figures of today at the same link, and says that it is live', async () => {
  const { id } = await writeReport(trial, { keeps: 'live', title: 'As it goes' })
  const link = await shareReport(trial, id)
  const guest = place.guest()
  const before = (await guest.get(link)).text
  await weigh(trial, '2')
  const after = (await guest.get(link)).text
  expect([before, after].map((html) => yieldOn(html).slice(0, 4))).toEqual(['0.40', '0.50'])
  expect(plain(after)).toContain('Live: these are the figures of')
  expect(plain(after)).not.toContain('Frozen on')
  const first = await guest.json<{ checksum: string }>(`${link}.json`)
  await weigh(trial, '1')
  const second = await guest.json<{ checksum: string }>(`${link}.json`)
  expect(first.checksum).not.toBe(second.checksum)
})

it('a later edition stands at the same link, and the earlier one can be reached from it', async () => {
  const { id: first } = await writeReport(trial, { title: 'Year one', words: 'Wet.' })
  const link = await shareReport(trial, first)
  const form = (await trial.keeper.get(`${trial.base}/reports?after=${first}`)).text
  expect(form).toContain(`name="after" value="${first}"`)
  expect(form).toContain('value="Year one"')
  const guest = place.guest()
  const { id: draft } = await writeReport(trial, { after: first, step: 'draft', title: 'Year one, mended' })
  expect((await guest.get(link)).text).toContain('<h1>Year one</h1>')
  const version = /name="version" value="(\d+)"/.exec((await open(draft)).text)?.[1]
  await writeReport(trial, { id: draft, version, title: 'Year one, mended', words: 'Wet, and one weight mended.' })
  const latest = (await guest.get(link)).text
  expect(latest).toContain('<h1>Year one, mended</h1>')
  const earlier = /<a href="([^"]+)">An earlier version of/.exec(latest)?.[1] ?? ''
  expect(earlier).toBe(`${link}?edition=1`)
  const old = (await guest.get(earlier)).text
  expect(old).toContain('<h1>Year one</h1>')
  expect(old).toContain(`<a href="${link}">There is a later version`)
  expect((await guest.get(`${link}?edition=7`)).status).toBe(404)
  expect((await guest.json<{ title: string }>(`${link}.json?edition=1`)).title).toBe('Year one')
})

it('the database itself refuses a change of a frozen report', async () => {
  const { id } = await writeReport(trial, { title: 'For good' })
  const slug = trial.base.split('/')[2] ?? ''
  const people = await place.database.drizzle.execute("select person_id, group_id from members where role = 'keeper'")
  const [{ person_id: personId = '' } = {}] = (people as unknown as { rows: { person_id: string }[] }).rows
  const groupId = await groupNamed(place.database, slug)
  const changes = [{ title: 'Other' }, { contents: {} }, { state: 'draft' }, { dataCutOff: 1 }, { words: '' }]
  for (const change of [...changes, { pictures: ['yields'] }]) {
    const attempt = asMember(place.database, { personId, groupId }, (tx) => tx.update(reports).set(change))
    await expect(attempt).rejects.toMatchObject({ cause: { constraint: 'frozen_reports_never_change' } })
  }
  expect((await open(id)).text).toContain('<h1>For good</h1>')
})

it('a newcomer finds where the gardens lie, how large they are and how they are worked', async () => {
  const { text } = await place.guest().get(await shareReport(trial, (await writeReport(trial)).id))
  expect(rowOf(text, 'Lower Terrace').slice(1, 5)).toEqual([
    'Dug every spring',
    'Quern Hill',
    '30.0 m²',
    '2 beds, 20.0 m²',
  ])
  expect(plain(text)).toContain('One spit deep, each spring.')
  await trial.keeper.post(`${trial.base}/weeks/2026-W05/hours`, {
    ...{ id: newId(), place: `garden:${trial.gardens.lower}`, task: 'weeding', time: '2 x 0:30', workedOn: '' },
  })
  const later = await place.guest().get(await shareReport(trial, (await writeReport(trial)).id))
  expect(rowOf(later.text, 'Lower Terrace')[8]).toBe('1 wrote hours down, at most 2 at a time')
  expect(rowOf(later.text, 'Long Bank')[8]).toBe('no hours written down')
})

it('a new report is offered on the latest season that is over, as Compare opens', async () => {
  const offered = async () => /<option value="([^"]+)" selected>/.exec(await listed())?.[1]
  expect(await offered()).toBe(trial.season)
  const next = { id: newId(), name: '2026/27', startsOn: '2026-08-01', endsOn: '2027-05-31' }
  expect((await trial.keeper.post(`${trial.base}/seasons`, next)).status).toBe(303)
  const running = await offered()
  expect(running).not.toBe(trial.season)
  await place.database.drizzle.execute(`update seasons set closed_at = now() where id = '${trial.season}'`)
  expect(await offered()).toBe(trial.season)
})
