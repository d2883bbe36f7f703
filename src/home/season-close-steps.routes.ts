import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { z } from 'zod'
import { constraintOf } from '../db/constraint.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { daysWritten } from '../diary/days-written.queries.ts'
import { storeEntries } from '../diary/entries.queries.ts'
import { knownIn } from '../diary/known.queries.ts'
import { lossRuled } from '../diary/loss-rule.ts'
import { refusalSaid } from '../diary/said.ts'
import { closeWeek } from '../diary/week.queries.ts'
import { dayIn, type IsoDate } from '../quantities/dates.ts'
import { weekOf } from '../quantities/iso-week.ts'
import { clearPlanting } from '../seasons/seasons.queries.ts'
import { type RefusedForm, readForm, refuseForm } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import { causesForm, clearingsForm, closeWeeksForm } from './season-close.form.ts'
import { unmarkedLosses, weeksOpen } from './season-close.page.ts'
import { seasonToClose } from './season-close.queries.ts'

interface SeasonRoute {
  Params: { season: string }
}
type SeasonRequest = FastifyRequest<SeasonRoute>
type Show = (request: SeasonRequest, reply: FastifyReply, refused: RefusedForm | null) => Promise<FastifyReply>
type Errors = Record<string, string>
type Rows = NonNullable<Awaited<ReturnType<typeof seasonToClose>>>

export function idInAddress(request: SeasonRequest): string {
  if (!z.uuid().safeParse(request.params.season).success) throw notFound()
  return request.params.season
}

/** What is open before a season closes is settled on the page that lists it: each is one save, and one undo. */
export function seasonCloseSteps(app: FastifyInstance, show: Show): void {
  const step = <T>(path: string, form: z.ZodType<T>, take: (at: Step, given: T) => Promise<Errors | null>) =>
    app.post<SeasonRoute>(
      `/g/:group/seasons/:season/close/${path}`,
      { config: { access: 'keeper' } },
      async (request, reply) => {
        const read = readForm(form, request.body)
        if (read.kind === 'refused') return show(request, reply, read)
        const errors = await taken(request, (at) => take(at, read.value))
        if (errors) return show(request, reply, refuseForm(request.body, errors))
        const { group } = request.member
        return reply.backTo(`/g/${group.slug}/seasons/${request.params.season}/close`, wordsHere().close.settled)
      },
    )
  step('weeks', closeWeeksForm, closeWeeks)
  step('clearings', clearingsForm, clear)
  step('losses', causesForm, lose)
}

interface Step {
  readonly tx: Tx
  readonly rows: Rows & { readonly today: IsoDate }
  readonly groupId: string
  readonly createdBy: string | null
}

/** A savepoint is not needed: what cannot be taken whole is refused by an error, and nothing of it stays. */
class NotTaken extends Error {
  readonly errors: Errors
  constructor(errors: Errors) {
    super('A step before closing was not taken.')
    this.errors = errors
  }
}

async function taken(request: SeasonRequest, work: (at: Step) => Promise<Errors | null>): Promise<Errors | null> {
  const { group, personId } = request.member
  const today = dayIn(group.timeZone, new Date())
  try {
    return await request.write(async (tx) => {
      const rows = await seasonToClose(tx, group.id, idInAddress(request))
      if (!rows) throw notFound()
      const errors = await work({ tx, rows: { ...rows, today }, groupId: group.id, createdBy: personId })
      if (errors) throw new NotTaken(errors)
      return null
    })
  } catch (error) {
    if (error instanceof NotTaken) return error.errors
    const constraint = constraintOf(error)
    if (constraint === 'plantings_cleared_after_sown') return { days: wordsHere().seasons.clearedFirst }
    if (constraint === 'plantings_fit_their_bed') return { days: wordsHere().week.noRoom }
    throw error
  }
}

/** Nothing that is not written down was done, or came off, in these weeks: from then on they are zero. */
async function closeWeeks({ tx, rows, groupId, createdBy }: Step, given: z.output<typeof closeWeeksForm>) {
  const of = given.gardenId === 'all' ? rows.gardens : rows.gardens.filter((garden) => garden.id === given.gardenId)
  if (of.length === 0) throw notFound()
  for (const { id: gardenId } of of) {
    for (const what of given.what === 'all' ? (['hours', 'weights'] as const) : [given.what]) {
      for (const isoWeek of weeksOpen(rows, { gardenId, what }))
        await closeWeek(tx, { groupId, createdBy }, { gardenId, what, isoWeek })
    }
  }
  return null
}

async function clear({ tx, rows, groupId }: Step, { days }: z.output<typeof clearingsForm>): Promise<Errors | null> {
  if (Object.keys(days).length === 0) return { days: wordsHere().close.noDay }
  const standing = new Map(rows.standing.map((one) => [one.id, one]))
  for (const [plantingId, clearedOn] of Object.entries(days)) {
    const planting = standing.get(plantingId)
    if (!planting) return { [`days.${plantingId}`]: wordsHere().close.clearedMeanwhile }
    if (clearedOn > rows.today) return { [`days.${plantingId}`]: wordsHere().diary.ahead }
    const { last } = await daysWritten(tx, groupId, plantingId)
    if (last !== null && last > clearedOn) return { [`days.${plantingId}`]: wordsHere().seasons.writtenLater }
    await clearPlanting(tx, { groupId, seasonId: planting.seasonId, plantingId, clearedOn })
  }
  return null
}

/** All of it was lost, on the day on which it was cleared. */
async function lose({ tx, rows, groupId, createdBy }: Step, { causes }: z.output<typeof causesForm>) {
  if (Object.keys(causes).length === 0) return { causes: wordsHere().close.noCause }
  const open = new Map(unmarkedLosses(rows).map((one) => [one.id, one.clearedOn]))
  for (const [plantingId, cause] of Object.entries(causes)) {
    const lostOn = open.get(plantingId)
    if (lostOn === undefined) return { causes: wordsHere().close.clearedMeanwhile }
    const isoWeek = weekOf(lostOn)
    const known = await knownIn(tx, groupId, { weeks: [isoWeek], today: rows.today })
    const of = { id: newId(), isoWeek, plantingId, lostOn, percent: 100, cause, alsoNextDoor: null, note: null }
    const ruled = lossRuled(known, { ...of, outside: false, outsideBefore: false, surely: true })
    if (ruled.kind === 'refused') return { causes: refusalSaid(ruled, wordsHere(), 'en') }
    await storeEntries(tx, { groupId, createdBy }, { weighings: [], hours: [], losses: [ruled.row] })
  }
  return null
}
