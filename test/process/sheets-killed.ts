/**
 * Types sheets of weeks into a service that is killed over and over, on the built-in database and on a PostgreSQL of its own
 * that is killed every other time in place of the service: `npx tsx test/process/sheets-killed.ts [entries, 10000] [kills, 20]`.
 * Ends with 1 where an acknowledged entry is missing, one is there twice, or a sheet is there in part.
 */
import { ownPostgres } from './postgres.ts'
import { sheetsUnderKills } from './sheets-under-kills.ts'

const [entries, kills] = [Number(process.argv[2] ?? 10_000), Number(process.argv[3] ?? 20)]
let failed = false
for (const engine of ['the built-in database', 'a PostgreSQL server']) {
  const server = engine === 'a PostgreSQL server' ? await ownPostgres() : null
  try {
    const found = await sheetsUnderKills({ entries, kills, databaseUrl: server?.url, server: server ?? undefined })
    console.log(
      `${engine}: ${found.sheets} sheets of 25 entries, killed ${kills} times, ${found.seconds} s; ` +
        `${found.acknowledged} acknowledged and there once each; ${found.cutOff} sendings cut off; ` +
        `${found.abandoned} sheets given up, ${found.abandonedThere} of them there whole, the others not at all`,
    )
    for (const line of found.wrong) console.error(line)
    failed ||= found.wrong.length > 0
  } finally {
    server?.remove()
  }
}
process.exit(failed ? 1 : 0)
