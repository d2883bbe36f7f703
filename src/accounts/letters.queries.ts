import { eq } from 'drizzle-orm'
import type { Database } from '../db/database.ts'
import { asDoor } from '../db/transaction.ts'
import type { Words } from '../words/catalogue.ts'
import { wordsFor } from '../words/locales.ts'
import { people } from './accounts.table.ts'
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
 * Writes to a person in the language of their first group, at their address or at the one they had; nothing where no
 * mail is set up. The act is done already: a letter that does not go takes nothing back.
 */
type Tell = (personId: string, say: (words: LetterWords, origin: string) => Said, to?: string) => Promise<void>

export function tellingBy(database: Database, mailing: Mailing | null): Tell {
  return async (personId, say, to) => {
    if (mailing === null) return
    const [person] = await asDoor(database, (tx) =>
      tx.select({ email: people.email }).from(people).where(eq(people.id, personId)),
    )
    const address = to ?? person?.email
    if (address === undefined) return
    const [group] = await groupsOf(database, personId)
    const { letters } = wordsFor(group?.locale ?? 'en').account
    mailing.post.send({ to: address, ...say(letters, mailing.origin) })
  }
}
