import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { Tx } from '../db/database.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { dayIn, type IsoDate } from '../quantities/dates.ts'
import { type IsoWeek, readIsoWeek } from '../quantities/iso-week.ts'
import { notFound } from '../web/problem.ts'
import { addressPart } from '../web/query-of.ts'
import type { Words } from '../words/catalogue.ts'
import { wordsFor } from '../words/locales.ts'
import { knownForWriting } from './known.queries.ts'
import type { Known } from './known.ts'
import { KnownKept } from './known-kept.queries.ts'

declare module 'fastify' {
  interface FastifyRequest {
    knownKept: KnownKept
  }
}

/** What is known of groups whatever the week may take so much memory. */
const bytesToKeep = 24 * 1024 * 1024

/** What rows are held against is kept by each process for itself, and asked about before it is used. */
export function keepKnown(app: FastifyInstance): void {
  const kept = new KnownKept(bytesToKeep)
  app.decorateRequest('knownKept', { getter: () => kept })
}

export interface WeekRoute {
  Params: { week: string }
}

export type WeekRequest = FastifyRequest<WeekRoute>
export type Errors = Record<string, string>

/** One form of a week on its way into the record. */
export interface Writing {
  readonly tx: Tx
  readonly author: Author
  readonly week: IsoWeek
  readonly request: FastifyRequest
  readonly words: Words
  readonly locale: string
  /** What its rows are held against, read once. */
  readonly known: Known
}

export const today = (request: FastifyRequest): IsoDate => dayIn(request.member.group.timeZone, new Date())

export function weekIn(request: FastifyRequest): IsoWeek {
  const week = readIsoWeek(addressPart(request, 'week'))
  if (!week) throw notFound()
  return week
}

/** One transaction that reads what is known once and writes. */
export function writeInWeek<T>(request: FastifyRequest, work: (at: Writing) => Promise<T>): Promise<T> {
  const { group, personId } = request.member
  const week = weekIn(request)
  return request.write(async (tx) => {
    const of = { weeks: [week], today: today(request) }
    const known = await knownForWriting(tx, group.id, of, request.knownKept)
    const author = { groupId: group.id, createdBy: personId }
    return work({ tx, author, week, request, words: wordsFor(group.locale), locale: group.locale, known })
  })
}
