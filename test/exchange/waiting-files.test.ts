import { sql } from 'drizzle-orm'
import type { FastifyInstance } from 'fastify'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { buildApp } from '../../src/app.ts'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { forgetWaitingFiles, settleFile } from '../../src/exchange/waiting-files.queries.ts'
import { packedText } from '../../src/web/temporary.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'
import { rowsOf } from './rows.ts'

let place: Place
let other: FastifyInstance
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  const { database } = place
  const given = { root: process.cwd(), secureCookies: false, trustProxy: ['127.0.0.1'], demo: false }
  other = await buildApp({ database, ...given })
  await other.listen({ host: '127.0.0.1', port: 0 })
  trial = await setUpTrial(place)
})
afterAll(async () => {
  await other.close()
  await place.close()
})

const { read, settled, table } = rowsOf(() => trial)

let day = 0
/** A file of its own each time: the same lines again would add nothing. */
const weights = () => `day,garden,crop,marketable kg\n2026-01-${++day + 10},Lower Terrace,potato,2\n`

const files = async (set: ReturnType<typeof sql>) =>
  void (await place.database.drizzle.execute(sql`update waiting_files set ${set}`))
const gone = sql`run = gen_random_uuid(), worked_at = now() - interval '31 seconds'`

beforeEach(async () => void (await place.database.drizzle.execute(sql`delete from waiting_files`)))

describe('a file that waits', () => {
  it('is confirmed at another process than the one that read it, and dropped there', async () => {
    const there = trial.keeper.at(other)
    const page = await read('harvests', weights())
    const before = (await table('harvests')).length
    expect(plain((await there.get(page.at)).text)).toContain('1 row to be stored')
    await there.post(`${page.at}/confirm`)
    expect(plain((await settled(page.at)).text)).toContain('Stored: 1 row.')
    expect((await table('harvests')).length).toBe(before + 1)
    await there.post(`${page.at}/drop`)
    expect((await trial.keeper.get(page.at)).status).toBe(404)
  })

  it('is stored once where two processes are told to at the same moment', async () => {
    const page = await read('harvests', weights())
    const before = (await table('harvests')).length
    const both = [trial.keeper, trial.keeper.at(other)].map((client) => client.post(`${page.at}/confirm`))
    expect((await Promise.all(both)).map(({ status }) => status)).toEqual([303, 303])
    expect(plain((await settled(page.at)).text)).toContain('Stored: 1 row.')
    expect((await table('harvests')).length).toBe(before + 1)
  })

  it.each(['reading', 'storing'])('is taken over where whoever was %s it is gone', async (state) => {
    const page = await read('harvests', weights())
    const before = (await table('harvests')).length
    await files(sql`state = ${state}, ${gone}`)
    const there = trial.keeper.at(other)
    expect((await there.get(page.at)).text).toContain('http-equiv="refresh"')
    const said = plain((await settled(page.at, there)).text)
    expect(said).toContain(state === 'reading' ? '1 row to be stored' : 'Stored: 1 row.')
    expect((await table('harvests')).length).toBe(before + (state === 'reading' ? 0 : 1))
  })

  it('is not touched while whoever works on it gives signs, and what it was taken from writes nothing down', async () => {
    const page = await read('harvests', weights())
    await files(sql`state = 'storing', run = gen_random_uuid(), lines = 321`)
    const underWay = (await trial.keeper.get(page.at)).text
    expect(underWay).toContain('http-equiv="refresh"')
    expect(plain(underWay)).toContain(catalogue.rows.storing('321'))
    await trial.keeper.post(`${page.at}/drop`)
    const [file] = (await waiting()) as [{ id: string; group: string; state: string; contents: number }]
    expect([file.state, file.contents > 0]).toEqual(['storing', true])
    const late = { id: file.id, run: newId() }
    const settle = () =>
      asMember(place.database, { personId: null, groupId: file.group }, (tx) =>
        settleFile(tx, file.group, late, { state: 'stored' }),
      )
    expect(await settle()).toBe(false)
    expect(await waiting()).toMatchObject([{ state: 'storing' }])
  })

  it('of lines that are no text the file can hold is read all the same', async () => {
    const page = await read(
      'harvests',
      'day,garden,odd \0 name,crop,marketable kg\n2026-01-30,Lower Terrace,,potato,\0\n',
    )
    expect(page.status).toBe(200)
    expect(plain(page.text)).toContain('1 row not right')
  })

  it('goes an hour after what was last done with it', async () => {
    const page = await read('harvests', weights())
    await files(sql`worked_at = now() - interval '59 minutes'`)
    await forgetWaitingFiles(place.database)
    expect((await trial.keeper.get(page.at)).status).toBe(200)
    await files(sql`worked_at = now() - interval '61 minutes'`)
    expect((await trial.keeper.get(page.at)).status).toBe(404)
    await forgetWaitingFiles(place.database)
    expect(await waiting()).toEqual([])
  })
})

/** Each row of a table as it stands, but for when it was written. */
const rowsIn = async (name: string) => (await table(name)).map(({ created_at: _then, ...row }) => row)

describe('what a file became when it was read', () => {
  const another = async (text: string) => files(sql`contents = ${await packedText(text)}`)
  const kept = async () =>
    (
      (await place.database.drizzle.execute(
        sql`select right_rows is not null as kept from waiting_files order by created_at`,
      )) as unknown as { rows: { kept: boolean }[] }
    ).rows.map((one) => one.kept)

  it('is stored as long as nothing has changed, and gone after that', async () => {
    const before = (await table('harvests')).length
    const page = await read('harvests', weights())
    expect(await kept()).toEqual([true])
    await another('day,garden,crop,marketable kg\n2026-01-30,No Such Garden,potato,2\n')
    await trial.keeper.post(`${page.at}/confirm`)
    expect(plain((await settled(page.at)).text)).toContain('Stored: 1 row.')
    expect([(await table('harvests')).length, await kept()]).toEqual([before + 1, [false]])
  })

  it('is left aside where the record has changed since: the file is read anew', async () => {
    const before = (await table('harvests')).length
    const page = await read('harvests', weights())
    await place.database.drizzle.execute(sql`update group_counters set changes = changes + 1`)
    await another('day,garden,crop,marketable kg\n2026-01-30,No Such Garden,potato,2\n')
    await trial.keeper.post(`${page.at}/confirm`)
    expect(plain((await settled(page.at)).text)).toContain(plain(catalogue.rows.changedMeanwhile))
    expect([(await table('harvests')).length, await kept()]).toEqual([before, [false]])
  })

  it('is the same rows, history and first change as reading it anew gives', async () => {
    const file = `day,garden,crop,marketable kg,unmarketable g,why\n${Array.from(
      { length: 30 },
      (_, i) => `2026-01-${11 + (i % 15)},Lower Terrace,potato,${i + 3},${i % 3},${i % 3 ? 'slugs' : ''}\n`,
    ).join('')}`
    const stored = async (between: () => Promise<unknown>) => {
      await place.database.drizzle.execute(sql`delete from harvests`)
      await place.database.drizzle.execute(sql`delete from changes where table_name = 'harvests'`)
      const page = await read('harvests', file)
      await between()
      await trial.keeper.post(`${page.at}/confirm`)
      expect(plain((await settled(page.at)).text)).toContain('Stored: 30 rows.')
      const history = (await table('changes')).filter((one) => one.table_name === 'harvests')
      const first = Math.min(...history.map((one) => Number(one.number)))
      return {
        rows: await rowsIn('harvests'),
        history: history.map(({ number, row_id, person_id, reason }) => [
          Number(number) - first,
          row_id,
          person_id,
          reason,
        ]),
      }
    }
    const asRead = await stored(async () => undefined)
    expect(asRead.history.length).toBe(30)
    const anew = await stored(() =>
      place.database.drizzle.execute(sql`update group_counters set changes = changes + 1`),
    )
    expect(anew).toEqual(asRead)
  })

  it('is not kept of a file with a line that is wrong, nor of rows that name what is added before them', async () => {
    await read('harvests', `${weights()}2026-01-30,No Such Garden,potato,2\n`)
    const loads = 'day,input,kind,unit,quantity,price\n2026-01-12,Straw,mulch,kg,3,4\n'
    expect(plain((await read('inputs', loads)).text)).toContain('1 row to be stored')
    expect(await kept()).toEqual([false, false])
  })
})

const waiting = async () =>
  (
    (await place.database.drizzle.execute(sql`select id, group_id as group, state, length(contents) + coalesce(length(right_rows), 0) as contents
      from waiting_files order by created_at`)) as unknown as { rows: object[] }
  ).rows

it('where all groups keep much the oldest makes room, and what is worked on stays', async () => {
  await read('harvests', weights())
  await files(sql`state = 'reading'`)
  await read('harvests', weights())
  const [first, second] = (await waiting()) as [{ contents: number }, { contents: number }]
  const most = first.contents + second.contents
  const asked = async (bytes: number) => {
    const group = newId()
    const room = sql`select room_for_waiting_file(${bytes}::bigint, ${most}::bigint) as room`
    const answer = await asMember(place.database, { personId: null, groupId: group }, (tx) => tx.execute(room))
    return (answer as unknown as { rows: { room: boolean }[] }).rows[0]?.room
  }
  expect([await asked(0), (await waiting()).length]).toEqual([true, 2])
  expect([await asked(1), (await waiting()).length]).toEqual([true, 1])
  expect([await asked(most), await waiting()]).toMatchObject([false, [{ state: 'reading' }]])
})
