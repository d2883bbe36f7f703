import { Readable } from 'node:stream'
import { text } from 'node:stream/consumers'
import { pipeline } from 'node:stream/promises'
import { setTimeout as wait } from 'node:timers/promises'
import { from as copyFrom, to as copyTo } from 'pg-copy-streams'
import { Client } from '../../support/app.ts'
import { largeGroup, password } from '../large-group.ts'
import { bareClient, type Ground } from './ground.ts'
import { type Tell, timed, turnAbout } from './taken.ts'

const rows = 50_000
const [season, gardens, crops, days] = [2025, 6, 30, 122]

/**
 * A file of weights, sent, read, confirmed and stored whole; beside it the very rows that came of it, copied into the
 * table with its constraints and its history on. Both times the group has no weights before.
 */
export async function csv(ground: Ground, tell: Tell): Promise<void> {
  const { app, database, url, text: textOf, sent, uploaded } = ground
  const { groupId, personId, slug, email } = await largeGroup(database, { seasons: 1, harvests: 0, labour: 0 }, 20)
  const keeper = new Client(app)
  await keeper.post('/sign-in', { email, password })
  const bare = await bareClient(url)
  await bare.query('delete from week_closings where group_id = $1', [groupId])
  const file = weights()
  const through = async () => {
    const at = await uploaded(`/g/${slug}/exchange/rows`, { kind: 'harvests', mark: 'point' }, file, keeper)
    await until(at, 'read')
    await sent(`${at}/confirm`, {}, keeper)
    await until(at, 'stored')
    const shown = await textOf(at, keeper)
    if (!shown.includes('Stored: 50')) throw new Error(shown.replace(/<[^>]+>/g, ' '))
  }
  /** Asked of the database: the page of a file looks again by itself every other second, which is not what is measured. */
  const until = async (at: string, wanted: string) => {
    for (;;) {
      const asked = 'select state from waiting_files where id = $1'
      const { rows: found } = await bare.query<{ state: string }>(asked, [at.split('/').at(-1)])
      if (found[0]?.state === wanted) return
      if (found[0]?.state === 'failed') throw new Error('The file failed.')
      await wait(20)
    }
  }
  const clear = async () => {
    await bare.query('set session_replication_role = replica')
    await bare.query('delete from harvests where group_id = $1', [groupId])
    await bare.query(`delete from changes where group_id = $1 and table_name = 'harvests'`, [groupId])
    await bare.query('set session_replication_role = origin')
    await bare.query('vacuum analyze harvests, changes')
  }
  await clear()
  await through()
  const stored = bare.query(copyTo(`copy (select * from harvests where group_id = '${groupId}') to stdout`))
  const lines = await text(stored)
  const count = lines.split('\n').length - 1
  if (count !== rows) throw new Error(`The file stored ${count} rows.`)
  await bare.query(`select set_config('evenground.person', $1, false), set_config('evenground.group', $2, false)`, [
    personId,
    groupId,
  ])
  const copied = () => pipeline(Readable.from([lines]), bare.query(copyFrom('copy harvests from stdin')))
  const found = await turnAbout(timed(through), timed(copied), { before: clear })
  tell({
    work: '50,000 rows of CSV, read and stored',
    against: 'COPY with constraints and history on',
    most: 2.5,
    found,
  })
  await bare.end()
}

/** Weights of each planting of the last season on the days on which it stood, no two lines alike. */
function weights(): string {
  const lines = ['day,garden,bed,crop,cultivar,marketable g,unmarketable g,why']
  for (let i = 0; i < rows; i++) {
    const [garden, crop] = [Math.floor(i / crops) % gardens, i % crops]
    const day = new Date(Date.UTC(season, 5, 1 + (Math.floor(i / (gardens * crops)) % days))).toISOString().slice(0, 10)
    lines.push(
      `${day},Garden ${garden},Bed ${crop % 8},crop ${crop},Kestrel,${100 + i},${i % 10},${i % 10 === 0 ? '' : 'slugs'}`,
    )
  }
  return `${lines.join('\n')}\n`
}
