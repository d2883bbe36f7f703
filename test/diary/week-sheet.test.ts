import { eq } from 'drizzle-orm'
import { NoopLogger } from 'drizzle-orm/logger'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { groups } from '../../src/accounts/accounts.table.ts'
import { newId } from '../../src/db/new-id.ts'
import { storeAll } from '../../src/db/store-all.ts'
import { asMember } from '../../src/db/transaction.ts'
import { harvests, losses } from '../../src/diary/diary.table.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const at = (week: string) => `${trial.base}/weeks/2026-W${week}`
const send = (week: string, sheet: object) => trial.keeper.post(at(week), { id: newId(), to: 'save', ...sheet })
const sheet = async (week: string) => (await trial.keeper.get(at(week))).text
const ledger = async (week: string) => (await trial.keeper.get(`${at(week)}/ledger`)).text
const carrot = (garden: string) => plantingOf(trial, 'carrot', garden)
const potato = (garden: string) => plantingOf(trial, 'potato', garden)
const typedAt = (html: string, name: string) =>
  html
    .split(`name="${name}"`)[1]
    ?.split('>')[0]
    ?.match(/value="([^"]*)"/)?.[1]

describe('the sheet of a week', () => {
  it('takes a week in one save: sums, strokes, days, two people, all gardens, once however often it is sent', async () => {
    const { lower = '', bank = '' } = trial.gardens
    const typed = {
      id: newId(),
      day: '2026-01-28',
      w: {
        [carrot('Lower')]: { good: '1.5+0.7' },
        [carrot('Long')]: { good: '2.5 / 400 g forked' },
        [potato('Lower')]: { good: 'Tu 1.2; 30.1.: 0.9' },
        [potato('Long')]: { good: '850', unit: 'g', bad: '50', why: 'small', day: 'Fr' },
      },
      h: {
        [lower]: { weeding: { time: '1:30' }, harvest: { h: '0', m: '45' } },
        [bank]: { weeding: { time: '2 x 1:30', day: 'Tu 27' } },
        all: { watering: { time: '40 min' } },
      },
    }
    for (let sent = 0; sent < 2; sent++) expect((await send('05', typed)).status).toBe(303)
    const page = await ledger('05')
    expect(rowOf(page, 'carrot, Kestrel · Lower Terrace, Bed 1').slice(1, 5)).toEqual([
      ...['2.2 kg', '0.0 kg', '', '28 January 2026'],
    ])
    expect(rowOf(page, 'carrot, Kestrel · Long Bank, Bed 1').slice(1, 4)).toEqual(['2.5 kg', '0.4 kg', 'forked'])
    expect(rowOf(page, 'potato, Heron · Long Bank, Bed 1').slice(1, 5)).toEqual([
      ...['0.850 kg', '0.050 kg', 'small', '30 January 2026'],
    ])
    const weights = page.split('<h2 id="weights">')[1]?.split('<h2')[0] ?? ''
    expect(weights.match(/<th scope="row">/g)).toHaveLength(5)
    expect(plain(weights)).toMatch(/1\.2 kg .*27 January.*0\.9 kg .*30 January/)
    const labour = page.slice(page.lastIndexOf('Person-hours'))
    expect(plain(labour)).toContain('Long Bank weeding 3.00 h 2 27 January 2026')
    expect(plain(labour)).toContain('several gardens by the area of their beds watering 0.67 h')
    expect(labour.split('<h2')[0]?.match(/<th scope="row">/g)).toHaveLength(4)
  })

  it('shows what is saved above its field, with the sums of the week beside the gardens', async () => {
    const page = await sheet('05')
    expect(plain(page)).toContain('2.50 good, 0.40 not saved, correct')
    expect(rowOf(page, 'Crop')[1]).toBe('Lower Terrace 4.30 · before –')
    expect(rowOf(await sheet('06'), 'Crop')[1]).toBe('Lower Terrace – · before 4.30')
    expect(typedAt(page, `w[${carrot('Lower')}][good]`)).toBe('')
  })

  it('stores what is right and gives back what is wrong at its cell, with all that was typed there', async () => {
    const wrong = {
      w: { [carrot('Lower')]: { good: '3.3' }, [carrot('Long')]: { good: 'three crates', day: 'Mo' } },
      h: { [trial.gardens.bank ?? '']: { sowing: { time: 'all day' } } },
      day: '2026-01-29',
    }
    const answer = await send('05', wrong)
    expect(answer.status).toBe(422)
    const text = plain(answer.text)
    expect(text).toContain('Saved: Lower Terrace 3.3 kg. 2 cells are not right:')
    expect(typedAt(answer.text, `w[${carrot('Long')}][good]`)).toBe('three crates')
    expect(typedAt(answer.text, `w[${carrot('Long')}][day]`)).toBe('Mo')
    expect(typedAt(answer.text, `h[${trial.gardens.bank}][sowing][time]`)).toBe('all day')
    expect(typedAt(answer.text, `w[${carrot('Lower')}][good]`)).toBe('')
    expect(plain(await ledger('05'))).toContain('3.3 kg')
  })

  it('asks about what is unlikely once, in the cell', async () => {
    const much = { w: { [potato('Lower')]: { good: '90' } }, day: '2026-01-28' }
    const asked = await send('05', much)
    expect([asked.status, plain(asked.text).includes('is a great deal')]).toEqual([422, true])
    expect(asked.text).toContain(`name="w[${potato('Lower')}][surely]"`)
    expect((await send('05', { ...much, w: { [potato('Lower')]: { good: '90', surely: 'yes' } } })).status).toBe(303)
  })

  it('asks the twin in its cell and closes no weights before it is answered; closing for all is one save and one undo', async () => {
    expect((await send('06', { w: { [carrot('Lower')]: { good: '1' } }, day: '2026-02-03' })).status).toBe(303)
    const page = await sheet('06')
    expect(page).toContain(`name="w[${carrot('Long')}][twin]"`)
    expect(page).not.toMatch(/\[twin\]"[^>]*checked/)
    const refused = await send('06', { closeWeights: ['all'], closeHours: ['all'] })
    expect(plain(refused.text)).toContain('Not closed: carrot was picked elsewhere and not here.')
    expect(plain(refused.text)).toContain('3 closings')
    const answered = await send('06', { closeWeights: ['all'], w: { [carrot('Long')]: { twin: 'none' } } })
    expect(answered.status).toBe(303)
    const closed = await trial.keeper.get(answered.location)
    expect(plain(closed.text)).toContain('Saved: Long Bank 0.0 kg; one closing.')
    expect(closed.text).not.toContain('[good]"')
    const undo = Object.fromEntries(
      [
        ...(closed.text.split('/undo"')[1]?.split('</form>')[0] ?? '').matchAll(
          /name="(first|last|back)" value="([^"]+)"/g,
        ),
      ].map((found) => [found[1], found[2]]),
    )
    expect((await trial.keeper.post(`${trial.base}/undo`, undo)).status).toBe(303)
    expect(await sheet('06')).toContain(`name="w[${carrot('Long')}][good]"`)
    expect((await send('06', { closeWeights: ['all'], w: { [carrot('Long')]: { twin: 'later' } } })).status).toBe(303)
  })

  it('a crate from several plantings stands in the cell of each, in its sum, and asks for no twin of its own', async () => {
    const plantingIds = [carrot('Lower'), carrot('Long')]
    const crate = { id: newId(), plantingIds, shareRule: 'area', marketable: '3', harvestedOn: '2026-03-10' }
    expect((await trial.keeper.post(`${at('11')}/shared-harvests`, crate)).status).toBe(303)
    const page = await sheet('11')
    expect(rowOf(page, 'carrot, Kestrel').filter((one) => one.includes('1.50 saved, correct of a crate'))).toHaveLength(
      2,
    )
    expect(rowOf(page, 'carrot, Kestrel').join(' ')).not.toContain('Not picked here')
    expect(rowOf(page, 'Crop')[1]).toContain('1.50')
    const closed = await send('11', { closeWeights: ['all'] })
    expect(closed.status).toBe(303)
  })

  it('a closed week opens for the sheet with one reason, and what is typed for it is taken in the same save', async () => {
    const { bank = '' } = trial.gardens
    const late = { w: { [carrot('Long')]: { good: '0.6' } }, day: '2026-02-03' }
    expect(plain((await send('06', late)).text)).toContain('This week is closed for that garden')
    expect(plain((await send('06', { ...late, reopenWeights: [bank] })).text)).toContain('Say why it is opened again')
    expect((await send('06', { ...late, reopenWeights: [bank], reason: 'a slip came late' })).status).toBe(303)
    expect(plain(await ledger('06'))).toContain('0.6 kg')
  })

  it('losses of a part and of all, from a fold and from a cell', async () => {
    const typed = {
      day: '2026-02-10',
      loss: { line1: { planting: potato('Long'), percent: '30', cause: 'pest' } },
      w: { [potato('Lower')]: { lost: 'not come', day: 'We' } },
    }
    const answer = await send('07', typed)
    expect(plain(answer.text)).toContain('Say the cause by one of the words of the list.')
    expect(
      (await send('07', { w: { [potato('Lower')]: { lost: 'did not come up' } }, day: '2026-02-10' })).status,
    ).toBe(303)
    const page = await sheet('07')
    expect(plain(page)).toContain('lost 10 Feb, did not come up')
    expect(plain(page)).toContain('-30 %')
  })

  it('a row that is not shown is found by what it is called, with all that was typed', async () => {
    const found = await send('08', { to: 'find', find: 'potato lower', w: { [carrot('Long')]: { good: '7' } } })
    expect(found.status).toBe(200)
    expect(typedAt(found.text, `w[${carrot('Long')}][good]`)).toBe('7')
    expect(rowOf(found.text, 'potato, Heron')[0]).toBe('potato, Heron')
    expect(plain((await send('08', { to: 'find', find: 'quince' })).text)).toContain('Nothing that stands this week')
  })

  it('an empty sheet says so, and a reader sees it without a field', async () => {
    const blank = await send('08', {})
    expect([blank.status, plain(blank.text).includes('There is nothing on this sheet yet.')]).toEqual([422, true])
    const reader = await place.joined(trial.keeper, 'reader')
    const page = (await reader.get(at('05'))).text
    expect([page.includes('[good]"'), page.includes('<button name="to"')]).toEqual([false, false])
    expect((await reader.post(at('05'), { id: newId() })).status).toBe(403)
  })
})

it('a save of forty rows reads what is known once and writes each table by one statement', async () => {
  const { lower = '', bank = '' } = trial.gardens
  const tasks = ['weeding', 'watering', 'harvest', 'clearing', 'sowing', 'planting', 'feeding', 'recording', 'other']
  const times = (minutes: number) => Object.fromEntries(tasks.map((task, i) => [task, { time: `${minutes + i} min` }]))
  const cells = (of: string) => Array.from({ length: 11 }, (_, i) => `${of}.${String(i + 10)}`).join('; ')
  const said: string[] = []
  const own = NoopLogger.prototype.logQuery
  NoopLogger.prototype.logQuery = (...given: unknown[]) => void said.push(String(given[0]))
  const typed = {
    w: { [carrot('Lower')]: { good: cells('1') }, [carrot('Long')]: { good: cells('2') } },
    h: { [lower]: times(10), [bank]: times(30) },
    day: '2026-02-24',
  }
  const answer = await send('09', typed)
  NoopLogger.prototype.logQuery = own
  expect(answer.status).toBe(303)
  const tables = (query: string) => [...query.matchAll(/insert into "(\w+)"/g)].map((found) => found[1])
  expect(said.map(tables).filter((named) => named.length > 0)).toEqual([['harvests', 'labour_entries']])
  expect(said.filter((query) => query.includes('from "plantings"')).length).toBeLessThanOrEqual(2)
  expect((await ledger('09')).match(/correct\/harvests/g)).toHaveLength(22)
})

it('a row that the database refuses is left out, and the others of the statement are stored', async () => {
  const [group] = await place.database.drizzle.select().from(groups).where(eq(groups.slug, trial.keeper.slug))
  const groupId = group?.id ?? ''
  const row = {
    ...{ groupId, createdBy: null, seasonId: trial.season, plantingId: carrot('Lower'), isoWeek: '2026-W10' },
    ...{ harvestedOn: '2026-03-04', marketableG: 1000, unmarketableG: 0 },
  }
  const [first, strange, last] = [newId(), newId(), newId()]
  const hail = {
    ...{ groupId, id: newId(), createdBy: null, seasonId: trial.season, plantingId: carrot('Lower') },
    ...{ isoWeek: '2026-W10', lostOn: '2026-03-04', sharePermille: 100, cause: 'weather' },
  }
  const rows = [
    { ...row, id: first },
    { ...row, id: strange, containerId: newId() },
    { ...row, id: last },
  ]
  const stored = await asMember(place.database, { personId: null, groupId }, (tx) =>
    storeAll(tx, [
      { table: harvests, rows },
      { table: losses, rows: [hail] },
    ]),
  )
  expect(stored.get(hail.id)).toBe('stored')
  expect([stored.get(first), stored.get(strange), stored.get(last)]).toEqual([
    ...['stored', { constraint: 'harvests_container' }, 'stored'],
  ])
  const again = await asMember(place.database, { personId: null, groupId }, (tx) =>
    storeAll(tx, [
      {
        table: harvests,
        rows: [
          { ...row, id: first },
          { ...row, id: last, marketableG: 2000 },
        ],
      },
    ]),
  )
  expect([again.get(first), again.get(last)]).toEqual(['there', 'another'])
})
