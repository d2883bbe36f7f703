import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { groups } from '../../src/accounts/accounts.table.ts'
import { dividedBetween } from '../../src/comparison/matched/divided-between.ts'
import { trialRecord } from '../../src/comparison/record/trial-record.queries.ts'
import { methodTotals } from '../../src/comparison/totals/method-totals.ts'
import type { Tx } from '../../src/db/database.ts'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { tablesBehind } from '../../src/reports/rows.queries.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const fold = { id: newId(), name: 'Clover, undersown' }
let beds: Record<string, string> = {}
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  const { keeper, base, season, gardens } = trial
  await keeper.post(`${base}/gardens/methods`, fold)
  // The upper bank: two beds of 15 m2 under one method, one of them new, and two of 5 m2 under another.
  const upper = newId()
  const site = choicesIn((await keeper.get(`${base}/gardens`)).text)('siteId')['Quern Hill']
  await keeper.post(`${base}/gardens/gardens`, { id: upper, siteId: site, name: 'Upper Bank', grossAreaCm2: '60' })
  const lay = (id: string, areaCm2: string, name: string) =>
    keeper.post(`${base}/gardens/beds`, { id, gardenId: upper, count: '1', areaCm2, name })
  const [old, fresh, one, two] = [newId(), newId(), newId(), newId()]
  await lay(old, '15', 'Old')
  await lay(fresh, '15', 'Fresh')
  await lay(one, '5', 'East')
  await lay(two, '5', 'West')
  beds = { old, fresh, one, two, upper }
  const methods = choicesIn((await keeper.get(`${base}/seasons/${season}`)).text)('methodId')
  const assign = (at: string, method: string, phase: string) =>
    keeper.post(`${base}/seasons/${season}/assignments`, {
      ...{ id: newId(), place: at, methodId: methods[method], phase, yearOfMethod: '1', how: 'choice' },
    })
  await assign(`bed:${old}`, 'Dug every spring', 'established')
  await assign(`bed:${fresh}`, 'Dug every spring', 'establishing')
  await assign(`bed:${one}`, fold.name, 'established')
  await assign(`bed:${two}`, fold.name, 'established')
  expect(gardens.lower).toBeDefined()
})
afterAll(() => place.close())

const at = (week: string) => `${trial.base}/weeks/2026-W${week}`
const send = (week: string, sheet: object) => trial.keeper.post(at(week), { id: newId(), to: 'save', ...sheet })
const asGroup = async <T>(work: (tx: Tx, groupId: string) => Promise<T>): Promise<T> => {
  const [group] = await place.database.drizzle.select().from(groups).where(eq(groups.slug, trial.keeper.slug))
  const groupId = group?.id ?? ''
  return asMember(place.database, { personId: null, groupId, readOnly: true }, (tx) => work(tx, groupId))
}
const read = () => asGroup(trialRecord)
const columns = async () => {
  const page = (await trial.keeper.get(at('05'))).text
  const cells = [...page.matchAll(/name="(h\[[^\]]+\]\[weeding\])\[time\]"[^>]*aria-label="([^"]*)"/g)]
  return Object.fromEntries(cells.map((one) => [plain(one[2] ?? ''), one[1] ?? '']))
}

describe('hours in a garden that is parted between methods and phases', () => {
  it('have a column for each method; a whole garden, its halves and a bed are each one entry', async () => {
    const names = await columns()
    const [dug, clover] = ['Upper Bank, Dug every spring', `Upper Bank, ${fold.name}`].map(
      (one) => names[`Weeding, ${one}`] ?? names[`weeding, ${one}`] ?? '',
    )
    expect([dug, clover].every((one) => /^h\[[0-9a-f-]{36}\.[0-9a-f-]{36}\]\[weeding\]$/.test(one ?? ''))).toBe(true)
    const key = (name = '') => name.slice(2).split(']')[0] ?? ''
    const sheet = {
      id: newId(),
      h: {
        [key(dug)]: { weeding: { time: '2:00' }, harvest: { time: '1:20', place: `garden:${beds.upper}` } },
        [key(clover)]: { weeding: { time: '0:50' }, sowing: { time: '0:30', place: `bed:${beds.two}` } },
      },
    }
    const saved = await send('05', sheet)
    expect(saved.status).toBe(303)
    expect((await send('05', sheet)).status).toBe(303)
    const page = (await trial.keeper.get(at('05'))).text
    const weeding = rowOf(page, 'weeding').join(' ')
    expect(weeding).toContain('2:00')
    expect(weeding).toContain('0:50')
    expect(rowOf(page, 'harvest').join(' ')).toContain('by area')
    const written = (await trial.keeper.get(`${at('05')}/ledger`)).text
    // In the order of the sheet: task by task within a garden.
    const order = [...written.matchAll(/correct\/labour\/[^>]*>\s*[^<]*<span class="unseen">\s*(\w+)/g)].map(
      (one) => one[1],
    )
    expect(order).toEqual(['sowing', 'weeding', 'weeding', 'harvest'])
    const ledger = plain(written)
    expect(ledger).toContain('Upper Bank, East 3, West 4')
    expect(ledger).not.toContain('in the week before')
    expect(ledger).toContain('divided by area: its beds are in different phases')
    const { labour } = await read()
    expect(labour.filter((one) => one.isoWeek === '2026-W05')).toHaveLength(6)
  })

  it('serve totals and phases: divided by area to the minute, each part marked', async () => {
    const { labour, ...record } = await read()
    const own = labour.filter((one) => one.isoWeek === '2026-W05')
    const parts = (task: string) =>
      own
        .filter((one) => one.task === task)
        .map(({ phase, personMinutes, bedIds, sharedMinutes }) => [phase, personMinutes, bedIds.length, sharedMinutes])
        .sort()
    // 80 minutes on 40 m2, of which 15 are new; two hours on 30 m2, half of them new.
    expect(parts('harvest')).toEqual([
      ['established', 50, 3, 80],
      ['establishing', 30, 1, 80],
    ])
    expect(
      own
        .filter((one) => one.task === 'weeding')
        .map((one) => [one.phase, one.personMinutes])
        .sort(),
    ).toEqual([
      ['established', 50],
      ['established', 60],
      ['establishing', 60],
    ])
    const totals = methodTotals({ ...record, labour }, trial.season)
    const dug = record.assignments.find((one) => one.bedId === beds.old)?.methodId ?? ''
    const clover = record.assignments.find((one) => one.bedId === beds.one)?.methodId ?? ''
    expect(totals.get(dug)).toMatchObject({
      minutesWithoutHarvest: 120,
      minutesOfHarvest: 60,
      minutesOfEstablishing: 90,
    })
    expect(totals.get(clover)).toMatchObject({
      minutesWithoutHarvest: 80,
      minutesOfHarvest: 20,
      minutesOfEstablishing: 0,
    })
    const share = (burden: 'hoursPerBed' | 'hoursPerKg') =>
      dividedBetween({ ...record, labour }, [trial.season], [dug, clover], { burden, unit: 'method' })
    // What was written for both methods together is no hour of one of them; what was written for one is.
    expect(share('hoursPerBed')).toBe(0)
    expect(share('hoursPerKg')).toBeCloseTo(60 / 180, 10)
  })

  it('go out with a report as the parts that anyone can divide again', async () => {
    const { labour } = await asGroup((tx, groupId) => tablesBehind(tx, groupId, [trial.season]))
    const [head = [], ...rows] = labour
    const column = (name: string) => head.indexOf(name)
    const told = (task: string, minutes: number) => {
      const row = rows.find((one) => one[column('task')] === task && one[column('person_minutes')] === minutes) ?? []
      const list = (name: string) =>
        String(row[column(name)] ?? '')
          .split(' ')
          .filter(Boolean)
      return { beds: list('beds').length, writtenFor: list('written_for').length, byRule: row[column('by_rule')] }
    }
    expect(told('harvest', 50)).toEqual({ beds: 3, writtenFor: 0, byRule: 0 })
    expect(told('weeding', 60)).toEqual({ beds: 1, writtenFor: 2, byRule: 0 })
    expect(told('weeding', 50)).toEqual({ beds: 2, writtenFor: 2, byRule: 0 })
    expect(told('sowing', 30)).toEqual({ beds: 0, writtenFor: 0, byRule: 0 })
  })

  it('over all gardens are one entry too, and one that is corrected stays on its ground', async () => {
    expect((await send('06', { h: { all: { watering: { time: '3:00' } } } })).status).toBe(303)
    const { labour } = await read()
    const own = labour.filter((one) => one.isoWeek === '2026-W06')
    expect(new Set(own.map((one) => one.id)).size).toBe(1)
    expect(own.reduce((sum, one) => sum + one.personMinutes, 0)).toBe(180)
    expect(own.map((one) => one.phase).sort()).toEqual(['established', 'established', 'established', 'establishing'])
    const half = labour.find((one) => one.isoWeek === '2026-W05' && one.task === 'weeding' && one.writtenFor)
    const page = await trial.keeper.get(`${trial.base}/correct/labour/${half?.id}`)
    const version = page.text.match(/name="version"[^>]*value="(\d+)"/)?.[1] ?? ''
    const typed = {
      version,
      workedOn: '',
      task: 'weeding',
      time: '2:30',
      phase: '',
      who: '',
      effort: '',
      deliveryId: '',
    }
    const corrected = await trial.keeper.post(`${trial.base}/correct/labour/${half?.id}`, {
      ...typed,
      reason: 'Misread',
    })
    expect(corrected.status).toBe(303)
    const again = (await read()).labour.filter((one) => one.id === half?.id)
    expect(again.map((one) => [one.phase, one.personMinutes]).sort()).toEqual([
      ['established', 75],
      ['establishing', 75],
    ])
  })
})

describe('a load spread over a garden that is parted between methods and phases', () => {
  it('stands as one row, and is divided by area: each bed has its own phase', async () => {
    const { keeper, base } = trial
    const compost = { name: 'Compost', kind: 'compost', unit: 'm3', ownMade: 'bought', usefulLifeSeasons: '1' }
    const load = { id: newId(), quantityThousandths: '2', priceMinor: '100', deliveredOn: '2026-01-10' }
    expect((await keeper.post(`${base}/inputs/deliveries`, { ...compost, ...load })).status).toBe(303)
    const spread = { load: load.id, place: `garden:${beds.upper}`, quantity: '2' }
    const saved = await send('05', { day: '2026-01-28', spread })
    expect(saved.status).toBe(303)
    expect(plain((await keeper.get(saved.location)).text)).toContain(
      'Saved: one load (divided by area between what lies there).',
    )
    const record = await read()
    expect(record.spreadings.map(({ phase, bedIds }) => [phase, bedIds.length])).toEqual([[null, 4]])
    const dug = record.assignments.find((one) => one.bedId === beds.old)?.methodId ?? ''
    const clover = record.assignments.find((one) => one.bedId === beds.one)?.methodId ?? ''
    const totals = methodTotals(record, trial.season)
    // 100.00 on 40 m2: 30 of them dug, half of those new; 10 under clover.
    expect(totals.get(dug)).toMatchObject({ cashMinor: 7500, cashEstablishing: 3750, cashSpread: 3750 })
    expect(totals.get(clover)).toMatchObject({ cashMinor: 2500, cashEstablishing: 0, cashSpread: 0 })
    const share = dividedBetween(record, [trial.season], [dug, clover], { burden: 'costPerKg', unit: 'method' })
    expect(share).toBe(1)
  })

  it('says so on the page of inputs, goes out with a report so, and keeps a phase that is said', async () => {
    const { keeper, base } = trial
    const page = (await keeper.get(`${base}/inputs`)).text
    expect(plain(page)).toContain('of each bed, by area')
    const { spreadings } = await asGroup((tx, groupId) => tablesBehind(tx, groupId, [trial.season]))
    expect(spreadings[1]?.[spreadings[0]?.indexOf('phase') ?? -1]).toBe('by bed')
    const id = /correct\/applications\/([0-9a-f-]{36})/.exec(page)?.[1] ?? ''
    const form = (await keeper.get(`${base}/correct/applications/${id}`)).text
    const version = /name="version"[^>]*value="(\d+)"/.exec(form)?.[1] ?? ''
    const typed = { version, quantityThousandths: '2', place: `garden:${beds.upper}`, depthMm: '', seasonId: '' }
    const given = { ...typed, appliedOn: '2026-01-28', reason: 'Both were new' }
    const correct = (more: object) => keeper.post(`${base}/correct/applications/${id}`, { ...given, ...more })
    expect((await correct({ phase: 'establishing' })).status).toBe(303)
    expect((await read()).spreadings.map((one) => one.phase)).toEqual(['establishing'])
    expect((await correct({ phase: '', version: String(Number(version) + 1) })).status).toBe(303)
    expect((await read()).spreadings.map((one) => one.phase)).toEqual([null])
  })
})
