import { and, asc, desc, eq, inArray } from 'drizzle-orm'
import type { Database, Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { asDoor } from '../db/transaction.ts'
import type { Words } from '../words/catalogue.ts'
import { wordsFor } from '../words/locales.ts'
import { people } from './accounts.table.ts'
import { waitingLetters } from './letters.table.ts'
import { groupsOf } from './members.queries.ts'

type LetterWords = Words['account']['letters']

interface Said {
  readonly subject: string
  readonly text: string
}

/** How letters leave, and the address by which people reach the service. */
export interface Mailing {
  readonly post: { send(letter: Said & { readonly to: string }): void }
  readonly origin: string
}

/**
 * Writes to a person in the language of their first group, at their address or at the one they had; where no mail is
 * set up the letter waits for their next sign-in. The act is done already: a letter that does not go takes nothing
 * back.
 */
type Tell = (personId: string, say: (words: LetterWords, origin: string) => Said, to?: string) => Promise<void>

export function tellingBy(database: Database, mailing: Mailing | null): Tell {
  return async (personId, say, to) => {
    const [group] = await groupsOf(database, personId)
    const { letters } = wordsFor(group?.locale ?? 'en').account
    // Without mail no letter names the service's address: only a link does, and none is asked for.
    if (mailing === null) return keepLetter(database, personId, say(letters, ''))
    const [person] = await asDoor(database, (tx) =>
      tx.select({ email: people.email }).from(people).where(eq(people.id, personId)),
    )
    const address = to ?? person?.email
    if (address === undefined) return
    mailing.post.send({ to: address, ...say(letters, mailing.origin) })
  }
}

/** So many wait for one person; the oldest go. */
const mostWaiting = 50

const ofPerson = (personId: string) => eq(waitingLetters.personId, personId)

async function keepLetter(database: Database, personId: string, { subject, text }: Said): Promise<void> {
  await asDoor(database, async (tx) => {
    await tx.insert(waitingLetters).values({ id: newId(), personId, subject, text })
    const old = await tx
      .select({ id: waitingLetters.id })
      .from(waitingLetters)
      .where(ofPerson(personId))
      .orderBy(desc(waitingLetters.createdAt), desc(waitingLetters.id))
      .offset(mostWaiting)
    const ids = old.map((one) => one.id)
    if (ids.length > 0) await tx.delete(waitingLetters).where(inArray(waitingLetters.id, ids))
  })
}

/** The first one first. */
export function lettersFor(database: Database, personId: string) {
  return asDoor(database, (tx) =>
    tx
      .select()
      .from(waitingLetters)
      .where(ofPerson(personId))
      .orderBy(asc(waitingLetters.createdAt), asc(waitingLetters.id)),
  )
}

/** Those that they have read; one that came meanwhile waits on. */
export async function lettersRead(database: Database, personId: string, ids: readonly string[]): Promise<void> {
  const these = and(ofPerson(personId), inArray(waitingLetters.id, ids.slice()))
  await asDoor(database, (tx) => tx.delete(waitingLetters).where(these))
}

export async function forgetLetters(tx: Tx, personId: string): Promise<void> {
  await tx.delete(waitingLetters).where(ofPerson(personId))
}
