import { createHash } from 'node:crypto'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { packageFormat } from '../../src/exchange/descriptor.ts'
import { shareReport, writeReport } from '../reports/reports.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { choicesIn } from '../support/trial.ts'
import { packed, rowsIn, unpacked } from './unpacked.ts'

let old: Place
let fresh: Place
let exported: Buffer
let slug: string
let compared: string
let link: string
let keeper: Client

beforeAll(async () => {
  old = await openPlace()
  keeper = await old.person()
  slug = (await keeper.post('/demo/copy')).location.split('/')[2] ?? ''
  const base = `/g/${slug}`
  const season = choicesIn((await keeper.get(`${base}/reports`)).text)('season')['2025/26'] ?? ''
  const trial = { keeper, base, season, plantings: {}, gardens: {} }
  const report = await writeReport(trial, { words: 'A wet spring.' })
  link = await shareReport(trial, report.id, {})
  await old.guest().get(link)
  await putPicture(old)
  exported = await keeper.download(`/g/${slug}/exchange/export.zip`)
  compared = (await keeper.get(`/g/${slug}/compare.json?season=all`)).text
  fresh = await openPlace()
})
afterAll(async () => {
  await old.close()
  await fresh.close()
})

/** What spreadsheets take for a formula, what reads as if it had been defused already, and what is neither. */
const formulas = ['=1+1', '+1', '-x', '@x', '\t=x', '\r=x', "'=x", "''@x"]
const asFormulas = [...formulas, "'x", "x'="]

/** A note with a picture of every byte, and notes that a spreadsheet would run: none is changed on the way. */
async function putPicture({ database }: Place): Promise<void> {
  const [note, picture] = [newId(), newId()]
  const jpeg = Buffer.from(Array.from({ length: 3000 }, (_, byte) => byte % 256)).toString('hex')
  const garden = sql`(select group_id, id from gardens where removed_at is null order by id limit 1)`
  const run = (statement: ReturnType<typeof sql>) => database.drizzle.execute(statement)
  await run(sql`insert into field_notes (group_id, id, garden_id, seen_on, kind, words)
    select group_id, ${note}::uuid, id, '2026-01-05', 'weed', 'couch' from ${garden} g`)
  await run(sql`insert into pictures (group_id, id, note_id, width, height, byte_count)
    select group_id, ${picture}::uuid, ${note}::uuid, 30, 40, 3000 from ${garden} g`)
  for (const words of asFormulas)
    await run(sql`insert into field_notes (group_id, id, garden_id, seen_on, kind, words)
      select group_id, ${newId()}::uuid, id, '2026-01-06', 'weed', ${words} from ${garden} g`)
  await run(sql`insert into picture_bytes select group_id, ${picture}::uuid, decode(${jpeg}, 'hex') from ${garden} g`)
}

const bringBack = (client: Client, bytes: Buffer) =>
  client.upload('/groups/bring-back', {}, { name: 'export.zip', bytes })

/** The package with one of its files changed, and its descriptor made to fit. */
async function changed(path: string, change: (text: string) => string): Promise<Buffer> {
  const files = await unpacked(exported)
  const text = change(files.get(path)?.toString('utf8') ?? '')
  files.set(path, Buffer.from(text))
  const descriptor = JSON.parse(files.get('datapackage.json')?.toString('utf8') ?? '') as {
    resources: { path: string; hash: string }[]
  }
  for (const one of descriptor.resources)
    if (one.path === path) one.hash = `sha256:${createHash('sha256').update(text).digest('hex')}`
  if (path !== 'datapackage.json') files.set('datapackage.json', Buffer.from(JSON.stringify(descriptor)))
  return packed(files)
}

async function groupsThere(place: Place): Promise<number> {
  const found =
    (await place.database.drizzle.execute(sql`select (select count(*) from groups) + (select count(*) from changes)
    + (select count(*) from bringings_in) as rows`)) as unknown as { rows: { rows: string }[] }
  return Number(found.rows[0]?.rows)
}

describe('what cannot be brought in is refused in words, and nothing of it stays', () => {
  const cases: [string, () => Promise<Buffer> | Buffer, string][] = [
    ['a file that is no zip', () => Buffer.from('planting,weight\r\n'), 'not a zip file'],
    ['a zip of something else', () => packed(new Map([['letter.txt', Buffer.from('x')]])), 'no datapackage.json'],
    ['a file cut short', () => exported.subarray(0, exported.length - 4000), 'not a zip file'],
    [
      'a weight changed by hand',
      async () => {
        const files = await unpacked(exported)
        const text = files.get('data/harvests.csv')?.toString('utf8') ?? ''
        files.set('data/harvests.csv', Buffer.from(text.replace(',field,', ',paper,')))
        return packed(files)
      },
      'The rows of &quot;harvests&quot; are not as they were written',
    ],
    [
      'a file left out',
      async () => {
        const files = await unpacked(exported)
        files.delete('data/losses.csv')
        return packed(files)
      },
      'The rows of &quot;losses&quot; are not as they were written',
    ],
    [
      'a small file that swells',
      () => changed('data/sites.csv', (text) => `${text}${'a'.repeat(40_000_000)}`),
      'larger than this service takes at once',
    ],
    [
      'a later format',
      () =>
        changed('datapackage.json', (text) =>
          text.replace(`"format": ${packageFormat}`, `"format": ${packageFormat + 1}`),
        ),
      'later release',
    ],
    [
      'a table not known here',
      () => changed('datapackage.json', (text) => text.replace('"name": "losses"', '"name": "tractors"')),
      'the table &quot;tractors&quot;',
    ],
    [
      'a column not known here',
      () => changed('data/losses.csv', (text) => text),
      'the column &quot;losses.colour&quot;',
    ],
    [
      'a row of another group',
      () =>
        changed(
          'data/sites.csv',
          (text) =>
            `${text
              .split('\r\n')
              .slice(0, 2)
              .join('\r\n')
              .replace(/\r\n[0-9a-f-]{36},/, `\r\n${newId()},`)}\r\n`,
        ),
      'rows of another group',
    ],
    [
      'a row that the rules refuse',
      () => changed('data/losses.csv', (text) => text.replaceAll(',weather,', ',magic,')),
      'losses_cause_is_known',
    ],
    [
      'a day that is none',
      () => changed('data/harvests.csv', (text) => text.replace(/,2\d{3}-\d\d-\d\d,/, ',2027-02-30,')),
      'own rules refuse these rows (harvests)',
    ],
    [
      'a history that is no document of columns',
      () => changed('data/changes.csv', (text) => text.replace(/,"\{""id"".*?\}"/s, ',5')),
      'own rules refuse these rows (changes)',
    ],
    [
      'a change at no time',
      () => changed('data/changes.csv', (text) => text.replace(/,2\d{3}-\d\d-\d\dT[^,]+,/, ',infinity,')),
      'own rules refuse these rows (changes)',
    ],
    [
      'a time zone that is none',
      () => changed('data/groups.csv', (text) => text.replace('Pacific/Auckland', 'Pacific/Atlantis')),
      'no group with its settings',
    ],
    [
      'a frozen report whose figures are words',
      () =>
        changed('data/reports.csv', (text) => text.replace(/""kgPerM2"": [\d.]+/, '""kgPerM2"": ""1); system(1)""')),
      'own rules refuse these rows (reports)',
    ],
    [
      'a frozen report in a language that is none',
      () => changed('data/reports.csv', (text) => text.replace(/""locale"": ""[^"]+""/, '""locale"": ""no_such!""')),
      'own rules refuse these rows (reports)',
    ],
    [
      'a counter behind its history',
      () => changed('datapackage.json', (text) => text.replace(/"changes": \d+/, '"changes": 5')),
      'counter_is_behind',
    ],
  ]
  it.each(cases)('%s', async (name, make, sentence) => {
    const person = await fresh.person()
    const before = await groupsThere(fresh)
    let bytes = await make()
    if (name === 'a column not known here') {
      const files = await unpacked(exported)
      const descriptor = files.get('datapackage.json')?.toString('utf8') ?? ''
      const at = descriptor.indexOf('"name": "losses"')
      files.set(
        'datapackage.json',
        Buffer.from(descriptor.slice(0, at) + descriptor.slice(at).replace('"name": "cause"', '"name": "colour"')),
      )
      bytes = await packed(files)
    }
    const answer = await bringBack(person, bytes)
    expect([
      answer.status,
      answer.text.includes(sentence.replaceAll('&quot;', '"')) || answer.text.includes(sentence),
    ]).toEqual([422, true])
    expect(await groupsThere(fresh)).toBe(before)
  })

  it('no file at all', async () => {
    const answer = await (await fresh.person()).post('/groups/bring-back')
    expect([answer.status, answer.text.includes('Choose the file of an export')]).toEqual([422, true])
  })

  it('a form of another site, and one without its token', async () => {
    const person = await fresh.person()
    const before = await groupsThere(fresh)
    const answer = await person.upload('/groups/bring-back', { _csrf: 'made-up' }, { name: 'x.zip', bytes: exported })
    expect(answer.status).toBe(403)
    expect(await groupsThere(fresh)).toBe(before)
  })
})

it('an export comes back whole: the same figures to the last digit, the same export byte for byte, and history goes on', async () => {
  const person = await fresh.person('Cleo Finch')
  const answer = await bringBack(person, exported)
  expect([answer.status, answer.location]).toEqual([303, `/g/${slug}`])
  expect((await person.get(`/g/${slug}/compare.json?season=all`)).text).toBe(compared)
  const again = await person.download(`/g/${slug}/exchange/export.zip`)
  const [before, after] = [await unpacked(exported), await unpacked(again)]
  // Each installation signs with a key of its own.
  expect([...after.keys()]).toEqual([...before.keys()])
  for (const path of before.keys()) {
    expect([path, after.get(path)?.equals(before.get(path) ?? Buffer.alloc(0))]).toEqual([
      path,
      path !== 'signature.json',
    ])
  }

  const { evenground } = JSON.parse(before.get('datapackage.json')?.toString('utf8') ?? '') as {
    evenground: { changes: number }
  }
  await person.post(`/g/${slug}/gardens/sites`, { id: newId(), name: 'Far Field' })
  const later = await unpacked(await person.download(`/g/${slug}/exchange/export.zip`))
  const last = later.get('data/changes.csv')?.toString('utf8').trimEnd().split('\r\n').at(-1) ?? ''
  expect(last).toContain(`,${evenground.changes + 1},sites,`)
  expect(last).toContain('Far Field')
  expect((await person.get(`/g/${slug}/people`)).text).toContain('Cleo Finch')

  const bytes = (await fresh.database.drizzle.execute(sql`select md5(jpeg) as md5 from picture_bytes`)) as unknown as {
    rows: { md5: string }[]
  }
  const every = Buffer.from(Array.from({ length: 3000 }, (_, byte) => byte % 256))
  expect(bytes.rows).toEqual([{ md5: createHash('md5').update(every).digest('hex') }])

  // The report is here, its link is not: whoever held the file could have tried its passphrase.
  const [there, here] = [await old.guest().get(link), await fresh.guest().get(link)]
  expect([there.status, here.status]).toEqual([200, 404])
  const report = /href="([^"]*\/reports\/[0-9a-f-]{36})"/.exec((await person.get(`/g/${slug}/reports`)).text)?.[1]
  expect((await person.get(report ?? '')).text).toContain('A wet spring.')
})

it('a text that a spreadsheet would run stands behind a quote mark, and comes back as it was', async () => {
  const told = rowsIn((await unpacked(exported)).get('data/field_notes.csv')).flatMap(({ words = '' }) => words)
  expect(told).toEqual(expect.arrayContaining(formulas.map((words) => `'${words}`)))
  expect(told).toEqual(expect.arrayContaining(asFormulas.slice(formulas.length)))
  expect(told.filter((words) => /^[=+\-@\t\r]/.test(words))).toEqual([])
  const back = (await fresh.database.drizzle.execute(
    sql`select words from field_notes where seen_on = '2026-01-06'`,
  )) as unknown as { rows: { words: string }[] }
  // Ids of one millisecond lie in any order.
  expect(back.rows.map(({ words }) => words).sort()).toEqual([...asFormulas].sort())
})

it('a group that is here already is not written over', async () => {
  const other = await old.person()
  const before = await keeper.download(`/g/${slug}/exchange/export.zip`)
  for (const client of [other, keeper]) {
    const answer = await bringBack(client, exported)
    expect([answer.status, answer.text.includes('This group is in this installation already')]).toEqual([422, true])
  }
  expect((await keeper.download(`/g/${slug}/exchange/export.zip`)).equals(before)).toBe(true)
})

it('an address that another group has here gets letters more, and the rest is the same', async () => {
  const place = await openPlace()
  try {
    const person = await place.person()
    await person.post('/groups', {
      name: 'Other',
      currency: 'NZD',
      timeZone: 'Pacific/Auckland',
      locale: 'en-NZ',
      weightUnit: 'kg',
      areaUnit: 'm2',
    })
    await place.database.drizzle.execute(sql`update groups set slug = ${slug}`)
    const answer = await bringBack(person, exported)
    expect(answer.location).toMatch(new RegExp(`^/g/${slug}-[0-9a-f]{4}$`))
    expect((await person.get(`${answer.location}/compare.json?season=all`)).text).toBe(compared)
  } finally {
    await place.close()
  }
})

describe('history is brought in by a bringing in alone', () => {
  const member = (groupId: string, statement: ReturnType<typeof sql>) =>
    asMember(fresh.database, { personId: newId(), groupId }, (tx) => tx.execute(statement))
  const constraint = (name: string) => expect.objectContaining({ cause: expect.objectContaining({ constraint: name }) })

  it('no member can mark a transaction, write into the history or begin for a group that stands', async () => {
    const stands = await fresh.keeper()
    const found = (await fresh.database.drizzle.execute(
      sql`select id from groups where slug = ${stands.slug}`,
    )) as unknown as { rows: { id: string }[] }
    const groupId = found.rows[0]?.id ?? ''
    await expect(
      member(groupId, sql`insert into bringings_in values (pg_current_xact_id(), ${groupId})`),
    ).rejects.toEqual(expect.objectContaining({ cause: expect.objectContaining({ code: '42501' }) }))
    await expect(member(groupId, sql`select bring_in_history('[]')`)).rejects.toEqual(constraint('history_is_written'))
    await expect(member(groupId, sql`select end_bringing_in(9)`)).rejects.toEqual(constraint('history_is_written'))
    await expect(member(groupId, sql`select begin_bringing_in(${groupId}, 'x')`)).rejects.toEqual(
      constraint('group_is_here_already'),
    )
    await expect(member(groupId, sql`select begin_bringing_in(${newId()}, 'x')`)).rejects.toEqual(
      constraint('brought_in_by_a_person'),
    )
  })
})
