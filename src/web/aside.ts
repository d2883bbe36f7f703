import { Worker } from 'node:worker_threads'

/** Records that the thread keeps, so that each is sent once, the one used last at the end. */
const mostHeld = 3

interface Job {
  resolve(made: unknown): void
  reject(error: Error): void
}

/** What is sent to the thread; `from` itself only where it does not hold it yet. */
export interface AskedAside {
  readonly job: number
  readonly module: string
  readonly name: string
  readonly key: number
  readonly from: object | null
  readonly given: unknown
  /** What it lets go of, to make room. */
  readonly dropped: readonly number[]
}

export type AnsweredAside =
  | { readonly job: number; readonly made: unknown }
  | { readonly job: number; readonly error: Error }

/** The one thread beside the one that answers: begun when it is first needed, and again after it has broken. */
class Thread {
  private readonly worker = new Worker(new URL('./aside-worker.js', import.meta.url))
  private readonly jobs = new Map<number, Job>()
  private readonly keys = new WeakMap<object, number>()
  private readonly held = new Set<number>()
  private last = 0

  constructor(onEnd: () => void) {
    const end = (error: Error) => {
      onEnd()
      for (const job of this.jobs.values()) job.reject(error)
      this.jobs.clear()
    }
    this.worker.on('message', (answer: AnsweredAside) => {
      const job = this.jobs.get(answer.job)
      this.jobs.delete(answer.job)
      // Nothing is waited for: the process may end.
      if (this.jobs.size === 0) this.worker.unref()
      if ('error' in answer) job?.reject(answer.error)
      else job?.resolve(answer.made)
    })
    this.worker.on('error', end)
    this.worker.on('exit', () => end(new Error('The thread beside ended.')))
  }

  ask<Made>(module: string, name: string, from: object, given: unknown): Promise<Made> {
    const key = this.keys.get(from) ?? ++this.last
    this.keys.set(from, key)
    const isHeld = this.held.delete(key)
    this.held.add(key)
    const dropped = [...this.held].slice(0, -mostHeld)
    for (const one of dropped) this.held.delete(one)
    const job = ++this.last
    const asked: AskedAside = { job, module, name, key, from: isHeld ? null : from, given, dropped }
    return new Promise((resolve, reject) => {
      this.jobs.set(job, { resolve, reject })
      this.worker.ref()
      this.worker.postMessage(asked)
    })
  }
}

let thread: Thread | null = null
const isBuilt = import.meta.url.endsWith('.js')

/** A function by the module that exports it, which `build.mjs` builds for the thread, and by its name there. */
interface Named {
  readonly module: string
  readonly name: string
}

/**
 * A pure function, made in a thread beside the one that answers, so that whoever else asks does not wait for it. What
 * it is made from is sent once and never changes; what is given and what is made are plain data. Where nothing is built
 * there is no thread: it is made here, and copied as it would be sent.
 */
export function aside<From extends object, Given, Made>(
  { module, name }: Named,
  make: (from: From, given: Given) => Made,
): (from: From, given: Given) => Promise<Made> {
  const built = new URL(`./${module}.js`, import.meta.url)
  return async (from, given) => {
    if (!isBuilt) return structuredClone(make(from, given))
    thread ??= new Thread(() => {
      thread = null
    })
    return thread.ask(built.href, name, from, given)
  }
}
