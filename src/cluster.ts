// Several processes of the service on one port, for a machine with several cores: npm run start:cluster.
import cluster, { type Worker } from 'node:cluster'
import { join } from 'node:path'
import { openServer } from './db/server.ts'
import { readSettings, type Settings } from './settings.ts'
import { metricsOfAll } from './web/metrics.ts'

/** How long is waited before a process that ended is followed by another, by how many ended soon after their start. */
const pauses = [250, 1000, 4000, 15_000, 30_000]
/** Whoever has lived for so long did not end of its start. */
const msOfALife = 60_000
/** A process ends by itself before that. */
const msToEnd = 10_000

const root = join(import.meta.dirname, '..')
const say = (line: string) => process.stdout.write(`${line}\n`)

function refuseToStart(sentences: readonly string[]): never {
  process.stderr.write(`${sentences.join('\n')}\n`)
  process.exit(2)
}

async function start(settings: Settings): Promise<void> {
  if (settings.databaseUrl === null)
    refuseToStart([
      'Several processes want a PostgreSQL server: the built-in database is of one process alone.',
      'Set DATABASE_URL, or start one process with "npm start".',
    ])
  const database = await openServer(settings.databaseUrl, settings)
  await database.migrate(join(root, 'migrations'), say)
  await database.close()
  cluster.setupPrimary({ exec: join(import.meta.dirname, 'main.js') })
  const processes = new Processes(settings.processes)
  for (const signal of ['SIGTERM', 'SIGINT'] as const) process.on(signal, () => processes.stop(0))
  if (settings.metricsPort !== null) await metricsOfAll(settings.host, settings.metricsPort)
  processes.begin()
}

/** The processes that answer: as many as wanted, each followed by another where it ends. */
class Processes {
  private readonly wanted: number
  private readonly answering = new Set<number>()
  private hasAnswered = false
  private stopping = false
  private code = 0

  constructor(wanted: number) {
    this.wanted = wanted
  }

  begin(): void {
    for (let i = 0; i < this.wanted; i++) this.one(0)
  }

  /** Ends with this code once they have ended; whoever has not by then is killed. */
  stop(code: number): void {
    if (this.stopping) return
    this.stopping = true
    this.code = code
    for (const { process: own } of workers()) own.kill('SIGTERM')
    setTimeout(() => {
      for (const { process: own } of workers()) own.kill('SIGKILL')
      process.exit(code)
    }, msToEnd)
    this.endIfAlone()
  }

  private one(deaths: number): void {
    const since = Date.now()
    const worker = cluster.fork()
    worker.once('listening', () => this.answers(worker))
    worker.once('exit', (code, signal) => {
      this.answering.delete(worker.id)
      if (this.stopping) return this.endIfAlone()
      // What it said on its way out stands above: no other would do better.
      if (!this.hasAnswered && code === 2) return this.stop(2)
      const next = Date.now() - since > msOfALife ? 0 : deaths + 1
      const pause = pauses[Math.min(next, pauses.length - 1)]
      say(`Process ${worker.process.pid} ended (${signal ?? code}); another follows in ${Number(pause) / 1000} s.`)
      setTimeout(() => this.stopping || this.one(next), pause)
    })
  }

  private answers(worker: Worker): void {
    this.hasAnswered = true
    this.answering.add(worker.id)
    say(`Process ${worker.process.pid} answers: ${this.answering.size} of ${this.wanted}.`)
  }

  private endIfAlone(): void {
    if (workers().length === 0) process.exit(this.code)
  }
}

const workers = () => Object.values(cluster.workers ?? {}).filter((worker) => worker !== undefined)

const read = readSettings()
if (read.kind === 'refused') refuseToStart(['A setting is not right:', ...read.sentences])
await start(read.settings).catch((error: unknown) => {
  refuseToStart([`Evenground could not start: ${error instanceof Error ? error.message : String(error)}`])
})
