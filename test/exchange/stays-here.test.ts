import { createHash } from 'node:crypto'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'
import { packed, rowsIn, unpacked } from './unpacked.ts'

let place: Place
let trial: Trial
let files: Map<string, Buffer>
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  const names = `${trial.base}/reports/names`
  const person = /name="agreed\[\]" value="([^"]+)"/.exec((await trial.keeper.get(names)).text)?.[1] ?? ''
  expect((await trial.keeper.post(names, { agreed: [person] })).status).toBe(303)
  const guesses = `${trial.base}/guesses/${trial.season}`
  const method = /guesses\[([0-9a-f-]{36})\]\[way\]/.exec((await trial.keeper.get(guesses)).text)?.[1] ?? ''
  const guess = { guesses: { [method]: { way: 'more', percent: '37' } } }
  expect((await trial.keeper.post(guesses, guess)).status).toBe(303)
  expect((await trial.keeper.post(`${trial.base}/people/invitations`, { role: 'reader' })).status).toBe(200)
  files = await unpacked(await trial.keeper.download(`${trial.base}/exchange/export.zip`))
})
afterAll(() => place.close())

const ofPeople = ['members', 'invitations', 'name_agreements', 'guesses']

it('what single members guessed and whether they agreed to be named stay here, in the history too', () => {
  expect([...files.keys()].filter((path) => /guesses|name_agreements|members|invitations/.test(path))).toEqual([])
  const history = rowsIn(files.get('data/changes.csv'))
  const told = history.filter((row) => ofPeople.includes(row.table_name ?? ''))
  expect(new Set(told.map((row) => row.table_name))).toEqual(new Set(ofPeople))
  expect(told.filter((row) => row.before || row.after || row.reason)).toEqual([])
  expect(history.filter((row) => row.table_name === 'beds' && row.after).length).toBeGreaterThan(2)
})

it('an older export that carries them is brought back without them, and its history says so', async () => {
  const stamp = "'2026-01-01T00:00:00.000000Z'"
  const columns = ['group_id', 'id', 'created_at', 'created_by', 'version', 'person_id', 'agreed']
  const descriptor = JSON.parse(files.get('datapackage.json')?.toString('utf8') ?? '{}') as {
    resources: { name: string; path: string; hash: string; schema: { fields: { name: string; type: string }[] } }[]
  }
  const [group] = rowsIn(files.get('data/groups.csv'))
  const id = group?.id ?? ''
  const agreement = `${columns.join()}\r\n${[id, id, stamp.replaceAll("'", ''), '', '1', id, '1'].join()}\r\n`
  const history = (files.get('data/changes.csv')?.toString('utf8') ?? '').split('\r\n')
  const at = history.findIndex((line) => line.includes(',name_agreements,'))
  history[at] = `${history[at]?.replace(/,*$/, '')},,,"{""agreed"": 1}"`
  const changes = history.join('\r\n')
  const first = descriptor.resources[0]
  if (!first) throw new Error('an export without a table')
  const hashOf = (text: string) => `sha256:${createHash('sha256').update(text).digest('hex')}`
  const schema = { ...first.schema, fields: columns.map((name) => ({ name, type: 'string' })) }
  const path = 'data/name_agreements.csv'
  descriptor.resources.push({ ...first, name: 'name_agreements', path, hash: hashOf(agreement), schema })
  for (const one of descriptor.resources) if (one.name === 'changes') one.hash = hashOf(changes)
  const older = new Map(files)
  older.set(path, Buffer.from(agreement))
  older.set('data/changes.csv', Buffer.from(changes))
  older.set('datapackage.json', Buffer.from(JSON.stringify(descriptor)))

  const fresh = await openPlace()
  try {
    const person = await fresh.person('Cleo Finch')
    const answer = await person.upload('/groups/bring-back', {}, { name: 'x.zip', bytes: await packed(older) })
    expect([answer.status, answer.location]).toEqual([303, trial.base])
    const found = (await fresh.database.drizzle.execute(
      sql`select (select count(*) from name_agreements)::int as agreed,
        (select count(*) from changes where table_name = 'name_agreements')::int as told,
        (select count(*) from changes where table_name = 'name_agreements' and after is not null)::int as kept`,
    )) as unknown as { rows: object[] }
    expect(found.rows).toEqual([{ agreed: 0, told: 1, kept: 0 }])
    const page = plain((await person.get(`${trial.base}/history?table=name_agreements`)).text)
    expect(page).toContain('stayed where it was written')
  } finally {
    await fresh.close()
  }
})
