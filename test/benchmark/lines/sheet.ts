import { newId } from '../../../src/db/new-id.ts'
import { daysOf, readIsoWeek } from '../../../src/quantities/iso-week.ts'
import { bareClient, type Ground } from './ground.ts'
import { type Taken, type Tell, timed, turnAbout } from './taken.ts'

/** In turn, so that no week holds more than a week would. */
const weeks = Array.from({ length: 20 }, (_, i) => `2025-W${20 + i}`)
const [weights, times] = [34, 6]
/** Sent before any is counted: a service that takes sheets has taken some. Then so many in a turn. */
const [warm, inTurn] = [20, 5]

/** What each of a few in a row takes: one alone would bear the garbage of what stood before it. */
function inARow(work: () => Promise<void>) {
  const all = timed(async () => {
    for (let i = 0; i < inTurn; i++) await work()
  })
  return async (): Promise<Taken> => {
    const { ms, processor } = await all()
    return { ms: ms / inTurn, processor: processor === null ? null : processor / inTurn }
  }
}

/**
 * A week of forty rows: sent as the sheet is, and written by one INSERT a table in the same role, history on both times.
 */
export async function sheet({ url, database, group, base, text: textOf, sent }: Ground, tell: Tell): Promise<void> {
  const bare = await bareClient(url)
  await bare.query('delete from week_closings where group_id = $1 and iso_week = any($2)', [group.groupId, weeks])
  const text = await textOf(`${base}/weeks/2025-W31?rows=all`)
  const all = (pattern: RegExp) => [...new Set([...text.matchAll(pattern)].map((found) => found[1] ?? ''))]
  const plantings = all(/name="w\[([\w-]{36})\]\[good\]"/g).slice(0, weights)
  const gardens = all(/name="h\[([\w-]{36})\]/g).slice(0, times)
  let number = 0
  const send = async () => {
    number += 1
    const week = readIsoWeek(weeks[number % weeks.length] ?? '')
    if (!week) throw new Error('There is no such week.')
    const [monday = ''] = daysOf(week)
    const cells = [
      ...plantings.flatMap((id, i) => [
        [`w[${id}][good]`, `${number * 100 + i} g`],
        [`w[${id}][surely]`, 'yes'],
      ]),
      ...gardens.flatMap((id, i) => [
        [`h[${id}][weeding][time]`, `${(number % 20) * 6 + i + 1} min`],
        [`h[${id}][weeding][surely]`, 'yes'],
      ]),
    ]
    await sent(`${base}/weeks/${week}`, { id: newId(), day: monday, to: 'save', ...Object.fromEntries(cells) })
  }
  const count = async () => {
    const counted = `select (select count(*) from harvests where group_id = $1)
      + (select count(*) from labour_entries where group_id = $1) as rows`
    return Number((await bare.query<{ rows: string }>(counted, [group.groupId])).rows[0]?.rows)
  }
  const already = await count()
  await send()
  const more = (await count()) - already
  if (more !== weights + times) throw new Error(`The sheet stored ${more} rows.`)
  const last = (table: string, rows: number) =>
    bare.query<Record<string, unknown>>(
      `select * from ${table} where group_id = $1 order by created_at desc, id limit ${rows}`,
      [group.groupId],
    )
  const [harvests, labour] = [(await last('harvests', weights)).rows, (await last('labour_entries', times)).rows]
  const written = async () => {
    await bare.query('begin')
    await bare.query(
      `select set_config('role', 'evenground_member', true), set_config('evenground.person', $1, true),
        set_config('evenground.group', $2, true), set_config('evenground.reason', '', true)`,
      [group.personId, group.groupId],
    )
    await insert('harvests', harvests)
    await insert('labour_entries', labour)
    await bare.query('commit')
  }
  /** The same rows under ids of their own. */
  const insert = (table: string, rows: readonly Readonly<Record<string, unknown>>[]) => {
    const own = rows.map(({ created_at: _then, ...one }) => ({ ...one, id: newId() }))
    const names = Object.keys(own[0] ?? {})
    const values = own.map((_one, i) => `(${names.map((_name, k) => `$${i * names.length + k + 1}`).join(', ')})`)
    const cells = own.flatMap((one) => Object.values<unknown>(one))
    return bare.query(`insert into ${table} (${names.join(', ')}) values ${values.join(', ')}`, cells)
  }
  for (let i = 0; i < warm; i++) {
    await send()
    await written()
  }
  const found = await turnAbout(inARow(send), inARow(written))
  tell({ work: 'a week of 40 rows by the sheet', against: 'one INSERT a table, history on', most: 3, found })
  await bare.end()
  await database.drizzle.execute('analyze')
}
