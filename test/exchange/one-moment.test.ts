import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { groups, members } from '../../src/accounts/accounts.table.ts'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { entriesOf } from '../../src/exchange/exchange.routes.ts'
import { firstOf } from '../../src/lookups/nth.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'
import { rowsIn, unpacked } from './unpacked.ts'

// A server reads all of it in one transaction, beside which others go on.
const onServer = process.env.TEST_DATABASE_URL !== undefined

let place: Place
let trial: Trial
let other: Client
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  other = await place.person('Ben Marsh')
})
afterAll(() => place.close())

async function whoKeeps() {
  const [found] = await place.database.drizzle.select().from(members).where(eq(members.role, 'keeper'))
  return { groupId: found?.groupId ?? '', personId: found?.personId ?? null }
}

/** By then the history is read, and the sites are not: tables go out by their names. */
const inTheMiddle = 25

/** The files of an export, where this is done before one of its transactions begins. */
async function exportedWhile(meanwhile: () => Promise<unknown>): Promise<Map<string, Buffer>> {
  const { database } = place
  const asItIs = database.transaction
  let begun = 0
  Object.assign(database, {
    transaction: async (...given: Parameters<typeof asItIs>) => {
      begun += 1
      if (begun === inTheMiddle) await meanwhile()
      return asItIs(...given)
    },
  })
  try {
    return await unpacked(await trial.keeper.download(`${trial.base}/exchange/export.zip`))
  } finally {
    Object.assign(database, { transaction: asItIs })
  }
}

it.skipIf(onServer)('others are answered between the parts of an export, and it is the same export', async () => {
  let [status, name] = [0, '']
  const inParts = await exportedWhile(async () => {
    const page = await other.get('/account')
    status = page.status
    name = /Ben Marsh/.exec(page.text)?.[0] ?? ''
  })
  expect([status, name]).toEqual([200, 'Ben Marsh'])
  const { groupId, personId } = await whoKeeps()
  const who = { groupId, personId, readOnly: true, snapshot: true }
  const lines = await asMember(place.database, who, async (tx) => {
    const group = await tx.select().from(groups).where(eq(groups.id, groupId))
    const entries = await entriesOf((part) => part(tx), firstOf(group))
    const found = new Map<string, string>()
    for (const { path, chunks } of entries) {
      let text = ''
      for await (const chunk of chunks()) text += chunk
      found.set(path, text)
    }
    return found
  })
  expect(lines.size).toBeGreaterThan(40)
  for (const [path, text] of lines) expect([path, inParts.get(path)?.toString()]).toEqual([path, text])
})

it.skipIf(onServer)('what is written between the parts of an export is in all of it', async () => {
  const write = () => trial.keeper.post(`${trial.base}/gardens/sites`, { id: newId(), name: 'Meanwhile Hill' })
  let status = 0
  const files = await exportedWhile(async () => {
    status = (await write()).status
  })
  expect(status).toBe(303)
  expect(rowsIn(files.get('data/sites.csv')).map(({ name }) => name)).toContain('Meanwhile Hill')
  const history = rowsIn(files.get('data/changes.csv'))
  expect(history.at(-1)?.after).toContain('Meanwhile Hill')
  const { evenground } = JSON.parse(files.get('datapackage.json')?.toString() ?? '') as { evenground: object }
  expect(evenground).toMatchObject({ changes: Number(history.at(-1)?.number) })
})
