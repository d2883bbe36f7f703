import { randomBytes } from 'node:crypto'
import { mkdirSync, readdirSync, renameSync, rmSync } from 'node:fs'
import { connect, createServer, type Server } from 'node:net'
import { hostname } from 'node:os'
import { join } from 'node:path'
import { socketAddress } from './asked-from.ts'
import { codeOf } from './constraint.ts'

type FolderLock =
  | { readonly kind: 'answer'; readonly release: () => void }
  /** Who has it, as they say it themselves; null where they do not answer. */
  | { readonly kind: 'refused'; readonly owner: string | null }

/**
 * Takes a data folder for this process. The embedded engine lets two processes open one folder and then loses rows, so
 * a second is refused here; after a kill the next start takes over.
 *
 * Each process puts up a flag and then looks for others: of two, the later to look sees the other, so two can never
 * both go on (Dijkstra 1965, Communications of the ACM 8:569, raises flags so). A flag is a socket on which its process
 * listens: the kernel refuses a connection to one whose process is dead, and takes it for one that is alive, or halted,
 * in whatever container on this machine it runs. It is only taken down by its owner or after its owner's death, and its
 * name is never used again. Of several who start at once the first by name waits for the rest to step back.
 */
export async function lockFolder(folder: string): Promise<FolderLock> {
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  const own = `${prefix}${randomBytes(8).toString('hex')}`
  const server = await raised(folder, own)
  const lower = () => {
    rmSync(join(folder, own), { force: true })
    server.close()
  }
  for (let look = 0; ; look++) {
    const [other] = await othersAlive(folder, own)
    if (other === undefined) return { kind: 'answer', release: lower }
    if (other < own || look === mostLooks) {
      const owner = await toldBy(folder, other)
      lower()
      return { kind: 'refused', owner }
    }
    await new Promise((resolve) => setTimeout(resolve, msBetweenLooks))
  }
}

const mostLooks = 40
const msBetweenLooks = 25
const msForAnAnswer = 500
const prefix = 'in-use.'

/** Listens under another name first: a flag that is seen is one that answers. */
function raised(folder: string, name: string): Promise<Server> {
  const beside = join(folder, `${name.replace(prefix, 'starting.')}`)
  const server = createServer((asking) => {
    asking.on('error', () => undefined)
    asking.end(`the process ${process.pid} on ${hostname()}`)
  })
  server.unref()
  return new Promise((resolve, reject) => {
    server.once('error', (error) => reject(new Error(`the folder ${folder} cannot hold a lock (${codeOf(error)})`)))
    server.listen(socketAddress(beside), () => {
      renameSync(beside, join(folder, name))
      resolve(server)
    })
  })
}

/** The flags of other live processes, first by name; those of the dead are taken down. */
async function othersAlive(folder: string, own: string): Promise<string[]> {
  const others = readdirSync(folder).filter((name) => name.startsWith(prefix) && name !== own)
  const alive: string[] = []
  for (const flag of others.sort()) {
    if (await isAlive(join(folder, flag))) alive.push(flag)
    else rmSync(join(folder, flag), { force: true })
  }
  return alive
}

/** Only what the kernel refuses is dead: one that is halted is connected to, or its queue is full. */
function isAlive(flag: string): Promise<boolean> {
  return new Promise((resolve) => {
    const asking = connect(socketAddress(flag))
    const answer = (alive: boolean) => {
      asking.destroy()
      resolve(alive)
    }
    asking.once('connect', () => answer(true))
    asking.once('error', (error) => answer(!['ECONNREFUSED', 'ENOENT'].includes(codeOf(error))))
  })
}

function toldBy(folder: string, flag: string): Promise<string | null> {
  return new Promise((resolve) => {
    let told = ''
    const asking = connect(socketAddress(join(folder, flag)))
    const answer = () => {
      clearTimeout(late)
      asking.destroy()
      resolve(told || null)
    }
    const late = setTimeout(answer, msForAnAnswer)
    asking.on('data', (chunk) => (told += String(chunk).slice(0, 200)))
    asking.once('end', answer)
    asking.once('error', answer)
  })
}
