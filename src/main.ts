import cluster from 'node:cluster'
import { join } from 'node:path'
import { endDueGroups } from './accounts/endings.queries.ts'
import { buildApp } from './app.ts'
import { openReplica } from './db/replica.ts'
import { aloneAmongAll, lookAgain } from './db/upkeep.ts'
import { forgetWaitingFiles } from './exchange/waiting-files.queries.ts'
import { openDatabase } from './open-database.ts'
import { drawWithFaces, readSettings, type Settings } from './settings.ts'
import { watchConnections } from './web/limits.ts'
import { postBy } from './web/mail.ts'
import { metricsKept } from './web/metrics.ts'

const msToBecomeWhole = 2000
const msToEnd = 9000

const root = join(import.meta.dirname, '..')
const say = (line: string) => process.stdout.write(`${line}\n`)

function refuseToStart(sentences: string[]): never {
  process.stderr.write(`${sentences.join('\n')}\n`)
  process.exit(2)
}

async function start(settings: Settings): Promise<void> {
  drawWithFaces(join(root, 'views', 'faces', 'drawn', 'fonts.conf'))
  const { database, release } = await openDatabase(settings, root)
  await database.migrate(join(root, 'migrations'), say)
  const metrics = settings.metricsPort === null ? null : metricsKept()
  const replica = settings.readUrl === null ? null : openReplica(settings.readUrl)
  const ending = lookAgain(
    () =>
      aloneAmongAll(database, async () => {
        await endDueGroups(database)
        await forgetWaitingFiles(database)
      }),
    (trouble) => app.log.error({ err: trouble }, 'failed'),
  )
  const { mail } = settings
  const post = mail && postBy(mail.smtp, mail.from, (code) => app.log.error({ code }, 'a letter did not go'))
  const mailing = mail && post && { post, origin: mail.origin }
  const watched = { logs: process.stdout, watch: metrics?.watch }
  const app = await buildApp({ ...settings, database, replica, root, mailing, ...watched })
  if (replica) {
    if (metrics) replica.onRead = metrics.countRead
    replica.onTrouble = (trouble) =>
      trouble === null
        ? app.log.info('the replica answers again')
        : app.log.warn({ err: trouble }, 'the replica does not answer: the primary is read in its place')
  }
  const letGo = watchConnections(app.server)
  let stopping = false
  const stop = async () => {
    if (stopping) return
    stopping = true
    // What was sent whole is answered first, half a request has a moment to become whole, and a kept-alive connection
    // is closed as soon as it has its answer. What the database is doing after that is rolled back by it.
    setTimeout(() => process.exit(0), msToEnd).unref()
    setTimeout(() => setInterval(letGo, 100), msToBecomeWhole)
    setInterval(() => app.server.closeIdleConnections(), 50)
    ending()
    await app.close()
    await post?.sent()
    await replica?.database.close()
    await database.close()
    release()
    process.exit(0)
  }
  for (const signal of ['SIGTERM', 'SIGINT'] as const) process.on(signal, () => void stop())
  // One of several answers Prometheus through the first one: which of them a port leads to is chance.
  if (cluster.isWorker) metrics?.handUp()
  else if (metrics && settings.metricsPort !== null) await metrics.serve(settings.host, settings.metricsPort)
  say(`Evenground is ready: ${await app.listen({ host: settings.host, port: settings.port })}`)
}

const read = readSettings()
if (read.kind === 'refused') refuseToStart(['A setting is not right:', ...read.sentences])
await start(read.settings).catch((error: unknown) => {
  refuseToStart([`Evenground could not start: ${error instanceof Error ? error.message : String(error)}`])
})
