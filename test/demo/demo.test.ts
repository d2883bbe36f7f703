import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { demoVisitor } from '../../src/accounts/members.queries.ts'
import { findingsOf } from '../../src/comparison/findings/findings.ts'
import { sentenceOf } from '../../src/comparison/findings/findings-told.page.ts'
import { keptContentsForm } from '../../src/comparison/kept-contents.form.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import { trialRecord } from '../../src/comparison/record/trial-record.queries.ts'
import { errorOfMeasuring, readingsOf } from '../../src/comparison/totals/error-of-measuring.ts'
import { rowsRead } from '../../src/db/rows-read.ts'
import { asMember } from '../../src/db/transaction.ts'
import { generateDemo, usualDay } from '../../src/demo/generator.ts'
import { makeDemo } from '../../src/demo/making.routes.ts'
import * as truth from '../../src/demo/truth.ts'
import { heapSaid } from '../../src/inputs/heap.ts'
import { heapsOf } from '../../src/inputs/heaps.queries.ts'
import { plantStandsOf } from '../../src/notes/plant-stands.queries.ts'
import { qchisq } from '../statistics/qchisq.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { openTestDatabase } from '../support/database.ts'
import { plain } from '../support/page-checks.ts'

let place: Place
let groupId: string
beforeAll(async () => {
  place = await openPlace()
  const made = await Promise.all([makeDemo(place.database, usualDay, false), makeDemo(place.database, usualDay, false)])
  expect(made).toEqual(['quern-hill', 'quern-hill'])
  groupId = (await demoVisitor(place.database, 'quern-hill'))?.group.id ?? ''
})
afterAll(() => place.close())

const read = <T>(work: Parameters<typeof asMember<T>>[2]) =>
  asMember(place.database, { personId: null, groupId, readOnly: true }, work)

it('the same seed gives the same rows and another seed gives others', () => {
  expect(generateDemo(7).rows).toEqual(generateDemo(7).rows)
  expect(generateDemo(7).rows.harvests).not.toEqual(generateDemo(8).rows.harvests)
})

it.skipIf(process.env.TEST_DATABASE_URL)('the built-in engine knows how large its tables became', async () => {
  const known = sql`select reltuples::int as known, (select count(*) from harvests)::int as there from pg_class
    where oid = 'harvests'::regclass`
  const [size] = await rowsRead(place.database.drizzle, known, (row) => [Number(row.known), Number(row.there)])
  // What the running season brings is written after it was looked at.
  expect(size?.[0]).toBeGreaterThan(0.5 * (size?.[1] ?? 0))
  expect(size?.[1]).toBeGreaterThan(300)
})

it('the first table of each season equals the sums that the generator kept', async () => {
  const { books } = generateDemo()
  const record = await read((tx) => trialRecord(tx, groupId))
  for (const [at, season] of truth.seasons.entries()) {
    const id = record.seasons.find((one) => one.name === season.name)?.id ?? ''
    const table = firstTable(record, id)
    for (const [garden, method] of truth.methods.entries()) {
      const totals = table.methods.find((one) => one.method === method.name)?.totals
      expect({ season: season.name, method: method.name, ...totals }).toMatchObject(books.of(at, garden))
      expect(totals?.standing).toBe(0)
    }
  }
})

it('what is in it on purpose is there', async () => {
  const rows = async (query: ReturnType<typeof sql>) =>
    Number((await read(async (tx) => ((await tx.execute(query)) as unknown as { rows: { n: string }[] }).rows))[0]?.n)
  const { rows: made } = generateDemo()
  expect(await rows(sql`select count(*) as n from losses where share_permille = 1000`)).toBe(1)
  expect(await rows(sql`select count(*) as n from bed_closures`)).toBe(1)
  expect(await rows(sql`select count(*) as n from harvests where share_rule = 'area'`)).toBe(1)
  expect(await rows(sql`select count(*) as n from plantings where matched_set_id is null`)).toBe(2)
  expect(await rows(sql`select count(distinct extractant) as n from soil_tests where analyte = 'P'`)).toBe(2)
  expect(
    await rows(sql`select count(*) as n from changes where table_name = 'harvests' and before is not null`),
  ).toBeGreaterThan(0)
  const { offPaper } = truth.onPurpose
  const off = made.labourEntries.filter((one) => one.source === 'paper')
  expect([...new Set(off.map((one) => one.isoWeek))]).toEqual(offPaper.weeks)
  const [heap, ...others] = await read((tx) => heapsOf(tx, groupId))
  expect(others).toEqual([])
  expect(heap).toMatchObject({ startedOn: '2025-04-05', readyOn: '2025-11-20', input: 'Own garden compost' })
  expect(heapSaid(heap?.log ?? [])).toEqual({ turnings: 1, hotDays: 1, hottestTenthsC: 585 })
  const stands = await read((tx) => plantStandsOf(tx, groupId))
  expect(stands.map(({ standing, sown }) => `${standing} of ${sown}`)).toEqual(
    truth.onPurpose.plantsStanding.flatMap(({ standing, sown }) => standing.map((came) => `${came} of ${sown}`)),
  )
  const record = await read((tx) => trialRecord(tx, groupId))
  const season = firstTable(record, record.seasons[offPaper.season]?.id ?? '')
  expect(season.methods.map(({ totals }) => [totals.entriesFromPaper, totals.entriesLate])).toEqual(
    truth.methods.map((_, garden) => (garden === offPaper.garden ? [off.length, off.length] : [0, 0])),
  )
  const readings = readingsOf(
    record,
    record.seasons.map((one) => one.id),
  )
  expect(readings.length).toBe(made.secondReadings.length)
  expect(readings.length).toBeGreaterThan(20)
  expect(await rows(sql`select count(*) as n from weather_days`)).toBe(made.weatherDays.length)
  expect(await rows(sql`select count(*) as n from week_closings where what = 'hours'`)).toBe(
    (await rows(sql`select count(*) as n from week_closings where what = 'weights'`)) -
      truth.onPurpose.weeksNeverClosed.weeks.length,
  )
})

it('second readings lie about the first as the truth says', () => {
  const pairs = [1, 2, 3, 4, 5, 6, 7, 8].flatMap((seed) => {
    const { rows } = generateDemo(seed)
    return rows.secondReadings.map(({ plantingId, isoWeek, weighedG }): [number, number] => {
      const first = rows.harvests.filter((one) => one.plantingId === plantingId && one.isoWeek === isoWeek)
      const grams = first.reduce((sum, one) => sum + Number(one.marketableG) + Number(one.unmarketableG), 0)
      return [grams, Number(weighedG)]
    })
  })
  const measured = errorOfMeasuring(pairs)
  if (measured.kind === 'refused') throw new Error(measured.detail)
  // 95 % limits of a standard deviation, from the chi-square of its square.
  const df = measured.pairs - 1
  const { sdLog } = truth.onPurpose.secondReadings
  expect(measured.sdLog * Math.sqrt(df / qchisq(0.975, df))).toBeLessThan(sdLog)
  expect(measured.sdLog * Math.sqrt(df / qchisq(0.025, df))).toBeGreaterThan(sdLog)
})

it('a visitor sees everything of the demo without an account, changes nothing, and sees no other group', async () => {
  const guest = place.guest()
  const front = await guest.get('/')
  expect(plain(front.text)).toContain('Look at a full example')
  const opened = await guest.post('/demo')
  expect(opened.location).toBe('/g/quern-hill')
  for (const path of ['', '/gardens', '/seasons', '/weeks/2026-W05', '/inputs', '/compare', '/reports', '/crops']) {
    const page = await guest.get(`/g/quern-hill${path}`)
    expect([path, page.status]).toEqual([path, 200])
    expect(plain(page.text)).toContain('invented example')
  }
  const compare = (await guest.get('/g/quern-hill/compare?season=all')).text
  const door = plain((await guest.get('/')).text)
  const said = plain(/<p class="answer several">\s*<span>([^<]+)</.exec(compare)?.[1] ?? 'no sentence').trim()
  expect(said).toContain('told apart from Lower Terrace by weight')
  expect(door).toContain(said)
  expect(plain((await guest.get('/g/quern-hill')).text)).toContain(said)
  const refused = await guest.post('/g/quern-hill/gardens/sites', { name: 'Mine' })
  expect(refused.status).toBe(403)
  expect(plain(refused.text)).toContain('for looking at')
  const other = await place.keeper()
  expect((await guest.get(`/g/${other.slug}`)).status).toBe(303)
  expect((await other.get('/g/quern-hill/compare')).status).toBe(200)
})

/** What stands on the first week of a season that was not closed altogether. */
async function openWeek(guest: Client): Promise<string> {
  for (let number = 1; number <= 30; number++) {
    const { text } = await guest.get(`/g/quern-hill/weeks/2025-W${String(number).padStart(2, '0')}`)
    if (/<form class="week"[\s\S]*<input type="text"[^>]*name="[a-z]+\[/.test(text))
      return text.slice(text.indexOf('<main'))
  }
  throw new Error('every week is closed')
}

it('a visitor may try the sheet of a week, and nothing is saved', async () => {
  const guest = place.guest()
  await guest.post('/demo')
  const main = await openWeek(guest)
  expect(plain(main)).toContain('nothing is saved in the example')
  expect(main).not.toMatch(/<button[^>]*value="(save|next:)/)
  const address = /<form class="week"[^>]*action="([^"]+)"/.exec(main)?.[1] ?? ''
  const field = /<input type="text"[^>]*name="([a-z]+\[[^"]+)"/.exec(main)?.[1] ?? ''
  const id = /<input type="hidden" name="id" value="([^"]+)"/.exec(main)?.[1] ?? ''
  const rows = async () => (await guest.get('/g/quern-hill/compare.csv?table=totals&season=all')).text
  const before = await rows()
  expect((await guest.post(address, { id, [field]: '3', to: 'save' })).status).toBe(403)
  expect(await rows()).toBe(before)
  // A reader of a group of people sees no fields: what is looked at there is not to be tried on.
  const reader = await place.joined(await place.keeper(), 'reader')
  expect((await reader.get(`/g/${reader.slug}/weeks`)).text).not.toMatch(/<input type="text"[^>]*name="[a-z]+\[/)
})

it('a copy is one’s own', async () => {
  const person = await place.person()
  const copied = await person.post('/demo/copy')
  const page = await person.get(copied.location)
  expect(page.status).toBe(200)
  expect((await person.post(`${copied.location}/gardens/methods`, { id: 'no uuid', name: '' })).status).toBe(422)
  expect((await place.guest().get(copied.location)).status).toBe(303)
})

it('what Compare says of the demo is so in its truth, and nothing is said of a method', async () => {
  const record = await read((tx) => trialRecord(tx, groupId))
  const seasonIds = record.seasons.map((season) => season.id)
  const found = findingsOf(record, { seasonIds, referenceId: record.methods[0]?.id ?? '', questionLocked: false })
  expect(found.length).toBeGreaterThanOrEqual(4)
  for (const finding of found) {
    const at = truth.methods.findIndex((method) => method.name === finding.methodB)
    const ground = (i: number) => (truth.methods[i]?.effect ?? 0) + (truth.gardens[i]?.effect ?? 0)
    const hours = (i: number) => Object.values(truth.labour).reduce((sum, task) => sum + (task[i] ?? 0), 0)
    const differs = { seen: ground(at) - ground(0), 'labour seen': Math.log(hours(at) / hours(0)) }
    if (finding.code === 'seen' || finding.code === 'labour seen') {
      expect(Math.sign(Math.log(finding.ratio))).toBe(Math.sign(differs[finding.code]))
    }
    const sentence = sentenceOf(finding, 'en')
    expect(sentence).not.toMatch(/better|worse|best|superior/)
    if ('certainty' in finding) expect(finding.certainty).toMatchObject({ method: 'cannot be told from the plot' })
  }
  // Hay and compost halve the weeding: this is large enough to be seen in three seasons.
  const seen = found.filter((one) => one.code === 'labour seen').map((one) => one.methodB)
  expect(seen).toEqual(expect.arrayContaining(['Compost mulch, never dug', 'Deep hay mulch']))
})

const dayOf = (day: string) => generateDemo(undefined, day as typeof usualDay).rows

it('what is over is the same on every day of a year, and the running season stands as far as the day', () => {
  const [planned, running, later] = [dayOf('2026-07-20'), dayOf('2026-12-09'), dayOf('2027-03-03')]
  const finished = generateDemo().rows
  for (const rows of [planned, running, later]) {
    for (const name of ['harvests', 'labourEntries', 'weekClosings', 'plantings'] as const) {
      expect(rows[name].slice(0, finished[name].length)).toEqual(finished[name])
    }
  }
  const own = (rows: typeof finished, name: keyof typeof finished) => rows[name].slice(finished[name].length)
  expect([own(planned, 'harvests').length, own(planned, 'labourEntries').length]).toEqual([0, 0])
  expect(own(planned, 'plantings').length).toBe(60)
  expect(own(planned, 'plantings').every((one) => one.clearedOn === undefined)).toBe(true)
  expect(own(running, 'harvests').length).toBeGreaterThan(5)
  expect(own(later, 'harvests').length).toBeGreaterThan(own(running, 'harvests').length)
  expect(own(running, 'harvests').every((one) => String(one.harvestedOn) <= '2026-12-09')).toBe(true)
  expect(own(running, 'seasons')[0]?.closedAt).toBeUndefined()
  expect(own(running, 'questions')[0]?.lockedAt).toBe('2026-07-12T08:00:00Z')
  expect(own(planned, 'deliveries').map((one) => one.deliveredOn)).toEqual([null])
})

it('the week of the day is open, and a little of the week before', () => {
  const rows = dayOf('2026-12-09')
  const closed = (week: string) => rows.weekClosings.filter((one) => one.isoWeek === week).length
  expect([closed('2026-W50'), closed('2026-W49'), closed('2026-W48')]).toEqual([0, 8, 10])
  expect(rows.labourEntries.some((one) => one.isoWeek === '2026-W50')).toBe(true)
})

it('in another year everything moves with it, and the truth stays', () => {
  const rows = dayOf('2031-02-10')
  expect(rows.seasons.map((one) => one.name)).toEqual(['2027/28', '2028/29', '2029/30', '2030/31'])
  expect(rows.questions[0]?.lockedAt).toBe('2030-07-12T08:00:00Z')
  const days = rows.harvests.map((one) => String(one.harvestedOn))
  expect(days.every((day) => day >= '2027-08-01' && day <= '2031-02-10')).toBe(true)
  const [then, base] = [rows.harvests, generateDemo().rows.harvests]
  expect(then[0]?.marketableG).toBe(base[0]?.marketableG)
})

it('it holds two finished reports, of one season and of all that are over, and a locked question', async () => {
  const database = await openTestDatabase()
  await makeDemo(database, '2026-12-09' as typeof usualDay)
  const id = (await demoVisitor(database, 'quern-hill'))?.group.id ?? ''
  const rows = async (query: ReturnType<typeof sql>) => {
    const who = { personId: null, groupId: id, readOnly: true }
    const found = await asMember(database, who, (tx) => tx.execute(query))
    return (found as unknown as { rows: Record<string, string>[] }).rows
  }
  const reports = await rows(sql`select title, state, season, checksum, contents from reports order by id`)
  expect(reports.map((one) => one.state)).toEqual(['frozen', 'frozen'])
  expect(reports[1]?.season).toBe('all')
  expect(reports.every((one) => /^[0-9a-f]{64}$/.test(one.checksum ?? ''))).toBe(true)
  // They rest on what is over, not on the season that runs.
  const contents = (reports[1]?.contents ?? {}) as unknown as { seasons?: string[] }
  expect(contents.seasons).toEqual(truth.seasons.map((one) => one.name))
  for (const one of reports) {
    const pictures = (one.contents as unknown as { pictures?: object[] }).pictures ?? []
    expect([keptContentsForm.safeParse(one.contents).error, pictures.length > 0]).toEqual([undefined, true])
  }
  const [question] = await rows(sql`select locked_at::text as locked from season_questions`)
  expect(question?.locked).toContain('2026-07-12')
  await database.close()
})

it('the first sentence on Home is never older than what is written', async () => {
  const person = await place.person()
  const at = (await person.post('/demo/copy')).location
  const said = async () => /<p class="answer">([^<]*told apart[^<]*)</.exec((await person.get(at)).text)?.[1] ?? ''
  expect(await said()).toContain('Lower Terrace')
  const [own] = (
    (await place.database.drizzle.execute(
      sql`select groups.id, person_id from groups join members on group_id = groups.id where slug = ${at.slice(3)}`,
    )) as unknown as { rows: { id: string; person_id: string }[] }
  ).rows
  const rename = sql`update gardens set name = 'Upper Terrace' where name = 'Lower Terrace'`
  await asMember(place.database, { personId: own?.person_id ?? '', groupId: own?.id ?? '' }, (tx) => tx.execute(rename))
  expect(await said()).toContain('Upper Terrace')
})
