/**
 * Lets the clock of a running service go wrong and right again: two days back, then seventy days on, while sheets are sent:
 * `npx tsx test/process/clock.ts`. On the built-in database the engine goes by the same clock; on a PostgreSQL of its own the
 * service alone is wrong. Ends with 1 where something saved is missing, the history has a gap, or a way in does not hold.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pg from 'pg'
import { openEmbedded } from '../../src/db/embedded.ts'
import { firstOf, nth } from '../../src/lookups/nth.ts'
import { ownPostgres } from './postgres.ts'
import { type Run, start } from './service.ts'
import { checked, emailOf, groundOf, perSheet, setUp, sheetOf, storedIn } from './sheets.ts'
import { Visitor } from './visitor.ts'

const day = 24 * 60 * 60 * 1000
const sheetsEach = 5
const wrong: string[] = []

for (const engine of ['the built-in database', 'a PostgreSQL server']) await underWrongClocks(engine)
for (const line of wrong) console.error(line)
process.exit(wrong.length > 0 ? 1 : 0)

async function underWrongClocks(engine: string): Promise<void> {
  const server = engine === 'a PostgreSQL server' ? await ownPostgres() : null
  const folder = mkdtempSync(join(tmpdir(), 'evenground-clock-'))
  const clock = join(folder, 'clock')
  const turn = async (days: number) => {
    writeFileSync(clock, String(days * day))
    await new Promise((resolve) => setTimeout(resolve, 300))
  }
  await turn(0)
  const run = await start({
    ...{ EVENGROUND_DATA: join(folder, 'data'), EVENGROUND_TEST_CLOCK: clock },
    ...{ NODE_OPTIONS: `--import=${join(process.cwd(), 'test/process/clock.mjs')}` },
    ...(server && { DATABASE_URL: server.url }),
  })
  try {
    await run.said(/is ready/)
    const { slug, devices } = await setUp(run)
    const [first, held] = [firstOf(devices), nth(devices, 1)]
    const ground = await groundOf(first, slug)
    const acknowledged = new Set<number>()
    let next = 0
    const expect = (what: string, is: unknown, wanted: unknown) => {
      if (is !== wanted) wrong.push(`${engine}: ${what}: ${is} in place of ${wanted}`)
    }
    const write = async (device: Visitor, when: string) => {
      for (let i = 0; i < sheetsEach; i++) {
        const { week, fields } = sheetOf(next, ground)
        const { status, said } = await device.send<{ stored: string[] }>(`/g/${slug}/weeks/${week}`, fields)
        expect(`sheet ${next}, ${when}`, `${status} ${said?.stored.length}`, `200 ${perSheet}`)
        acknowledged.add(next++)
      }
    }
    const typed = sheetOf(next, ground).week
    const page = () => first.get(`/g/${slug}`).then((answer) => answer.status)
    await write(first, 'before')
    await held.get(`/g/${slug}/weeks/${typed}`)

    await turn(-2)
    expect('a page two days back', await page(), 200)
    const sheet = sheetOf(next, ground)
    const posted = await held.post(`/g/${slug}/weeks/${sheet.week}`, sheet.fields)
    expect('a form of before, sent two days back', posted.status, 303)
    acknowledged.add(next++)
    await write(first, 'two days back')
    expect('the tries of a guesser, two days back', await refusedAfter(run), 10)

    await turn(0)
    await write(first, 'right again')
    await turn(70)
    const after = await page()
    // By its own clock the engine calls the session too old; a server knows better.
    expect('a page seventy days on', after, server ? 200 : 303)
    const again = new Visitor(run.base)
    expect('signing in seventy days on', await again.signIn(emailOf(run)), 303)
    await write(again, 'seventy days on')
    expect('the tries of a guesser, seventy days on', await refusedAfter(run, 'later@example.org'), 10)

    await turn(0)
    await write(again, 'right at the end')
    expect('signing in at the end', await new Visitor(run.base).signIn(emailOf(run)), 303)
    expect(
      'the tries of who guessed in the time to come',
      await refusedAfter(run, 'later@example.org'),
      server ? 0 : 10,
    )
    run.child.kill('SIGTERM')
    expect('the end of the service', await run.ended, 0)
    const stored = await storedIn(server?.url, join(folder, 'data'))
    checked({ sheets: next, stored, acknowledged, abandoned: new Set(), wrong })
    const { changes, last, counted } = await historyIn(server?.url, join(folder, 'data'))
    expect('changes in the history', changes, last)
    expect('changes counted', counted, last)
    console.log(
      `${engine}: ${acknowledged.size} sheets saved at five settings of the clock and there once each; the history has ` +
        `${changes} changes numbered to ${last}; seventy days on a page was answered by ${after}`,
    )
  } finally {
    run.child.kill('SIGKILL')
    await run.ended
    server?.remove()
    rmSync(folder, { recursive: true, force: true })
  }
}

/** How many wrong passwords are taken before they are too many. */
async function refusedAfter({ base }: Run, email = 'guessed@example.org'): Promise<number> {
  const guesser = new Visitor(base)
  for (let tries = 0; tries < 20; tries++) {
    await guesser.get('/sign-in')
    if ((await guesser.post('/sign-in', { email, password: `a wrong guess ${tries}` })).status === 429) return tries
  }
  return Number.POSITIVE_INFINITY
}

interface History {
  readonly changes: number
  readonly last: number
  readonly counted: number
}

async function historyIn(databaseUrl: string | undefined, folder: string): Promise<History | Record<string, never>> {
  const asked = `select count(distinct number)::int as changes, max(number)::int as last,
    (select sum(changes)::int from group_counters) as counted from changes`
  if (databaseUrl) {
    const client = new pg.Client({ connectionString: databaseUrl })
    await client.connect()
    const { rows } = await client.query<History>(asked)
    await client.end()
    return rows[0] ?? {}
  }
  const database = await openEmbedded(join(folder, 'database'))
  const { rows } = await database.engine.query<History>(asked)
  await database.close()
  return rows[0] ?? {}
}
