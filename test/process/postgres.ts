import { type SpawnSyncReturns, spawnSync } from 'node:child_process'
import { chownSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { freePort } from './service.ts'

/** A PostgreSQL of its own in a temporary folder, to be stopped and killed without harm to any other. */
export interface OwnPostgres {
  readonly url: string
  readonly port: number
  start(): void
  stop(mode: 'fast' | 'immediate'): void
  /** Kills the first process of the server as a lack of memory would. */
  kill(): void
  remove(): void
  /** Of its first process. */
  pid(): number
  /** What it was asked so far, where it was started so that it writes that down. */
  log(): string
}

/** A standby of another: it replays what that writes, answers meanwhile, and can be made a server of its own. */
export interface OwnStandby extends OwnPostgres {
  promote(): void
}

export async function ownPostgres(within = tmpdir(), more = ''): Promise<OwnPostgres> {
  const folder = mkdtempSync(join(within, 'evenground-postgres-'))
  const run = runner(folder)
  run('initdb', ['-D', join(folder, 'data'), '-U', 'evenground', '-A', 'trust', '-E', 'UTF8'])
  const server = serverIn(folder, run, { port: await freePort(), more })
  server.start()
  run('createdb', ['-h', '127.0.0.1', '-p', String(server.port), '-U', 'evenground', 'evenground'])
  return server
}

/** With a folder of its own, begun from a copy of the other as it runs. */
export async function standbyOf(primary: OwnPostgres, more = '', within = tmpdir()): Promise<OwnStandby> {
  const folder = mkdtempSync(join(within, 'evenground-standby-'))
  const [run, data] = [runner(folder), join(folder, 'data')]
  const from = ['-h', '127.0.0.1', '-p', String(primary.port), '-U', 'evenground']
  run('pg_basebackup', [...from, '-D', data, '-R', '-X', 'stream', '-c', 'fast'])
  const server = serverIn(folder, run, { port: await freePort(), more })
  server.start()
  return { ...server, promote: () => void run('pg_ctl', ['-D', data, '-w', 'promote']) }
}

interface At {
  readonly port: number
  /** Further options, as `-c name=value`. */
  readonly more: string
}

function serverIn(folder: string, run: ReturnType<typeof runner>, { port, more }: At): OwnPostgres {
  const data = join(folder, 'data')
  const options = `-p ${port} -k ${folder} -c listen_addresses=127.0.0.1 ${more}`
  const startOnce = () => run('pg_ctl', ['-D', data, '-w', '-l', join(folder, 'log'), '-o', options, 'start'])
  // After a kill the orphans hold the shared memory for a moment, and a start is refused as long.
  const start = () => {
    for (let tries = 1; ; tries++) {
      try {
        return void startOnce()
      } catch (error) {
        if (tries === 20) throw error
        Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 500)
      }
    }
  }
  const pid = () => Number(readFileSync(join(data, 'postmaster.pid'), 'utf8').split('\n')[0])
  const stop = (mode: string) => run('pg_ctl', ['-D', data, '-w', '-m', mode, 'stop'])
  return {
    url: `postgres://evenground@127.0.0.1:${port}/evenground`,
    port,
    start,
    stop,
    pid,
    kill: () => process.kill(pid(), 'SIGKILL'),
    remove: () => {
      try {
        if (existsSync(join(data, 'postmaster.pid'))) stop('immediate')
      } catch {
        // Killed before, and not started since.
      }
      rmSync(folder, { recursive: true, force: true })
    },
    log: () => readFileSync(join(folder, 'log'), 'utf8'),
  }
}

/** PostgreSQL refuses to be run by root: then it is run as "nobody". */
function runner(folder: string) {
  const id = (flag: string) => Number(spawnSync('id', [flag, 'nobody']).stdout.toString())
  const as = process.getuid?.() === 0 ? { uid: id('-u'), gid: id('-g') } : {}
  if (as.uid !== undefined) chownSync(folder, as.uid, as.gid)
  return (program: string, options: string[]): SpawnSyncReturns<Buffer> => {
    const path = [process.env.POSTGRES_BIN ?? '/usr/lib/postgresql/15/bin', program].join('/')
    const done = spawnSync(path, options, { ...as, cwd: folder, stdio: ['ignore', 'ignore', 'pipe'] })
    if (done.status !== 0) throw new Error(`${program} ${options.join(' ')}: ${done.stderr}`)
    return done
  }
}
