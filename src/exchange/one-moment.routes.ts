import type { FastifyRequest } from 'fastify'
import { changesCounted } from '../accounts/saved.queries.ts'
import type { Database } from '../db/database.ts'
import type { ReadPart } from './export.queries.ts'

/** Something of the group was written while it was read in parts. */
class Moved extends Error {}

/**
 * Reads a whole group as of one moment. The embedded engine has one connection, and whatever else is asked would wait
 * for the end of a transaction around all of it: there each part is a transaction of its own, which holds the count of
 * the group's changes beside that of the first. Where something was written between two of them all is read anew, in
 * one. `work` is asked for the same again then, and begins with nothing.
 */
export async function ofOneMoment<T>(
  database: Database,
  request: FastifyRequest,
  work: (read: ReadPart) => Promise<T>,
): Promise<T> {
  const atOnce = () => request.readAtOnce((tx) => work((part) => part(tx)))
  if (database.kind !== 'embedded') return atOnce()
  let counted: number | null = null
  const inParts: ReadPart = (part) =>
    request.read(async (tx) => {
      const now = await changesCounted(tx, request.member.group.id)
      counted ??= now
      if (now !== counted) throw new Moved()
      return part(tx)
    })
  try {
    return await work(inParts)
  } catch (error) {
    if (!(error instanceof Moved)) throw error
    return atOnce()
  }
}
