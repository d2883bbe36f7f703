import type { FastifyRequest } from 'fastify'
import type { Tx } from '../db/database.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { dayIn, type IsoDate } from '../quantities/dates.ts'
import { daysOf, type IsoWeek, readIsoWeek, thursdayOf } from '../quantities/iso-week.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { notFound } from '../web/problem.ts'
import { catalogue } from '../words/catalogue.ts'
import { closingsHeld } from './week.queries.ts'
import { dayRefused, seasonOfDay } from './week-rules.ts'

export type WeekRequest = FastifyRequest<{ Params: { week: string } }>
export type Errors = Record<string, string>

/** One form of a week on its way into the record. */
export interface Writing {
  readonly tx: Tx
  readonly author: Author
  readonly week: IsoWeek
  readonly request: FastifyRequest
}

export const today = (request: FastifyRequest): IsoDate => dayIn(request.member.group.timeZone, new Date())

export function weekIn(request: FastifyRequest): IsoWeek {
  const week = readIsoWeek((request.params as { week: string }).week)
  if (!week) throw notFound()
  return week
}

export function dayWrong(at: Writing, day: string): string | undefined {
  const refused = dayRefused({ day, daysOfWeek: daysOf(at.week), today: today(at.request) })
  return refused && catalogue.diary[refused]
}

export async function anyClosed(at: Writing, gardenIds: readonly string[], what: string): Promise<boolean> {
  const closings = await closingsHeld(at.tx, at.author.groupId, at.week)
  return closings.some((closing) => closing.what === what && gardenIds.includes(closing.gardenId))
}

/** The season of the day, or of the week's Thursday where no day is known; where that lies in none, the one that was named. */
export async function seasonFor(at: Writing, day: string | null, named: string | null) {
  const seasons = await seasonsOf(at.tx, at.author.groupId)
  return seasonOfDay(seasons, day ?? thursdayOf(at.week)) ?? seasons.find((season) => season.id === named)
}
