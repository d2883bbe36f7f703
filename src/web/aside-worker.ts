import { parentPort } from 'node:worker_threads'
import { held } from '../lookups/held.ts'
import type { AnsweredAside, AskedAside } from './aside.ts'

const records = new Map<number, object>()

/** The other side of `aside.ts`: makes what is asked for, one after another. */
parentPort?.on('message', (asked: AskedAside) => {
  const { key, from, dropped } = asked
  if (from !== null) records.set(key, from)
  // Now: what comes while a module is read may let go of it.
  const record = held(records, key)
  for (const one of dropped) records.delete(one)
  void answered(asked, record).then((answer) => parentPort?.postMessage(answer))
})

async function answered({ job, module, name, given }: AskedAside, record: object): Promise<AnsweredAside> {
  try {
    const make: unknown = Reflect.get(await import(module), name)
    if (typeof make !== 'function') throw new Error(`${module} has no ${name}`)
    return { job, made: make(record, given) }
  } catch (error) {
    return { job, error: error instanceof Error ? error : new Error(String(error)) }
  }
}
