import { AsyncLocalStorage } from 'node:async_hooks'
import { sql } from 'drizzle-orm'
import { linkOf, sent } from '../lookups/unsaid.ts'
import { waitFor } from './afterwards.ts'
import { codeOf } from './constraint.ts'
import type { Around, Database, Tx } from './database.ts'

export interface Acting {
  readonly personId: string | null
  readonly groupId: string
  readonly reason?: string | undefined
  readonly readOnly?: boolean
  /** All that is read is of one moment, however many statements read it. */
  readonly snapshot?: boolean
}

const inside = new AsyncLocalStorage<true>()
const deadlockOrSerialization = ['40P01', '40001']
const attempts = 3

/**
 * Who comes in, and to which groups: people, sessions, invitations and the finding of share links; no group's record.
 * With the person where what is done is theirs and stands in a group's history: coming in by an invitation, leaving
 * with the account.
 */
export function asDoor<T>(database: Database, work: (tx: Tx) => Promise<T>, person = ''): Promise<T> {
  return acting(database, { role: 'evenground_door', person, group: '', reason: '', readOnly: false }, work)
}

/** One group's record, bound to it by row-level security; with what is asked last, when the work is done. */
export function asMember<T>(
  database: Database,
  who: Acting,
  work: (tx: Tx) => Promise<T>,
  last?: Around['last'],
): Promise<T> {
  const settings = {
    role: 'evenground_member',
    person: linkOf(who.personId),
    group: who.groupId,
    reason: sent(who.reason),
    readOnly: who.readOnly ?? false,
    snapshot: who.snapshot ?? false,
    last,
  }
  return acting(database, settings, work)
}

interface Settings {
  role: string
  person: string
  group: string
  reason: string
  readOnly: boolean
  snapshot?: boolean
  last?: Around['last']
}

async function acting<T>(database: Database, settings: Settings, work: (tx: Tx) => Promise<T>): Promise<T> {
  // The embedded engine has one connection: a transaction inside another would wait for itself for ever.
  if (inside.getStore()) throw new Error('A transaction was opened inside another: hand the first one on instead.')
  const { answer, after } = await tried(database, settings, work)
  for (const one of after) await one(database)
  return answer
}

async function tried<T>(database: Database, settings: Settings, work: (tx: Tx) => Promise<T>) {
  for (let attempt = 1; ; attempt++) {
    try {
      return await inside.run(true, () =>
        database.transaction(
          async (tx) => {
            const after = waitFor(tx)
            return { answer: await work(tx), after }
          },
          { first: taking(settings), last: settings.last, ...modeOf(settings) },
        ),
      )
    } catch (error) {
      if (attempt === attempts || !deadlockOrSerialization.includes(codeOf(error))) throw error
    }
  }
}

function modeOf({ readOnly, snapshot }: Settings) {
  if (!readOnly) return {}
  return snapshot
    ? ({ accessMode: 'read only', isolationLevel: 'repeatable read' } as const)
    : ({ accessMode: 'read only' } as const)
}

/**
 * JIT is off for each transaction, so that it holds behind a pooler too: planning for it cost more than the whole of
 * any question asked here (586 of 666 ms of what changed since a season was closed).
 */
const taking = ({ role, person, group, reason }: Settings) =>
  sql`select set_config('role', ${role}, true), set_config('evenground.person', ${person}, true),
    set_config('evenground.group', ${group}, true), set_config('evenground.reason', ${reason}, true),
    set_config('jit', 'off', true)`
