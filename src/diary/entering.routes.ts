import type { z } from 'zod'
import { mayOpen } from '../accounts/role.ts'
import type { StoredOrRefused } from '../db/store-all.ts'
import { saidOf } from '../web/form.ts'
import { notFound } from '../web/problem.ts'
import { type ClosingTyped, closingRuled } from './closing-rule.ts'
import { type Entries, storeEntries } from './entries.queries.ts'
import { type HoursTyped, hoursRuled } from './hours-rule.ts'
import { lossRuled } from './loss-rule.ts'
import { lotsNamed } from './lots.queries.ts'
import type { Field, RowRefusal } from './refusal.ts'
import { errorsOf } from './said.ts'
import type { harvestForm, hoursForm, lossForm, sharedHarvestForm, sharedHoursForm } from './week.form.ts'
import { closeWeek, reopenWeek } from './week.queries.ts'
import type { labelledForm } from './weighing.form.ts'
import { type WeighingTyped, weighingRuled } from './weighing-rule.ts'
import type { Errors, Writing } from './writing.routes.ts'

/**
 * Every form of the diary: its fields to what a rule reads, and the rule's answer to a sentence at a field of the form.
 */
const none: Entries = { weighings: [], hours: [], losses: [] }
const noShares: ReadonlyMap<string, number> = new Map()

type Names = Partial<Record<Field, string>>
const ofWeighing: Names = {
  day: 'harvestedOn',
  container: 'containerId',
  lifted: 'liftedOn',
  sameLot: 'sameLotAs',
}
const ofHours: Names = { day: 'workedOn', season: 'seasonId', load: 'deliveryId' }

type Weighing = Pick<
  z.output<ReturnType<typeof harvestForm>>,
  | 'id'
  | 'harvestedOn'
  | 'marketable'
  | 'unmarketable'
  | 'why'
  | 'containerId'
  | 'pieces'
  | 'source'
  | 'surely'
  | 'state'
  | 'liftedOn'
  | 'sameLotAs'
  | 'seedLot'
>

const weighingOf = (at: Writing, given: Weighing) => ({
  id: given.id,
  isoWeek: at.week,
  harvestedOn: given.harvestedOn,
  marketable: given.marketable,
  unmarketable: given.unmarketable,
  why: given.why,
  containerId: given.containerId,
  pieces: given.pieces,
  state: given.state,
  liftedOn: given.liftedOn,
  sameLotAs: given.sameLotAs,
  seedLot: given.seedLot,
  source: given.source,
  surely: Boolean(given.surely),
})

/** One planting's weighing. */
export const enterHarvest = (at: Writing, given: z.output<ReturnType<typeof harvestForm>>): Promise<Errors | void> => {
  const typed = { ...weighingOf(at, given), from: [given.plantingId], shareRule: null, shares: noShares }
  return weigh(at, typed, { ...ofWeighing, from: 'plantingId' })
}

/** One crate from several plantings, kept whole and divided by a stated rule when figures are made. */
export const enterSharedHarvest = (
  at: Writing,
  given: z.output<ReturnType<typeof sharedHarvestForm>>,
): Promise<Errors | void> => {
  const { plantingIds, shareRule, shares } = given
  const typed = { ...weighingOf(at, given), from: plantingIds, shareRule, shares }
  return weigh(at, typed, { ...ofWeighing, from: 'plantingIds' })
}

/** A weight for a label: the rule finds the planting behind it, and no sentence that comes back names it. */
export const enterLabelled = (
  at: Writing,
  given: z.output<ReturnType<typeof labelledForm>>,
): Promise<Errors | void> => {
  const typed = { ...weighingOf(at, given), from: { label: given.label }, shareRule: null, shares: noShares }
  return weigh(at, typed, { ...ofWeighing, from: 'label' })
}

async function weigh(at: Writing, typed: WeighingTyped, names: Names): Promise<Errors | void> {
  const lots = await lotsNamed(at.tx, at.author.groupId, typed.sameLotAs)
  const ruled = weighingRuled({ ...at.known, lots }, typed)
  if (ruled.kind === 'refused') return said(at, ruled, names)
  return stored(at, { ...none, weighings: [ruled.row] }, typed.id)
}

type Hours = Omit<z.output<typeof hoursForm>, 'place'>

const hoursOf = (at: Writing, given: Hours) => ({
  id: given.id,
  isoWeek: at.week,
  task: given.task,
  time: given.time,
  people: given.people,
  workedOn: given.workedOn,
  seasonId: given.seasonId,
  phase: given.phase,
  who: given.who,
  effort: given.effort,
  deliveryId: given.deliveryId,
  source: given.source,
  surely: Boolean(given.surely),
})

/** Hours on a garden, a bed or a planting. */
export const enterHours = (at: Writing, given: z.output<typeof hoursForm>): Promise<Errors | void> =>
  work(at, { ...hoursOf(at, given), place: given.place, shareRule: null, shares: noShares }, ofHours)

/** One stretch of work over several gardens, kept whole and divided by a stated rule when figures are made. */
export const enterSharedHours = (at: Writing, given: z.output<typeof sharedHoursForm>): Promise<Errors | void> => {
  const { gardenIds, shareRule, shares } = given
  return work(at, { ...hoursOf(at, given), place: gardenIds, shareRule, shares }, { ...ofHours, place: 'gardenIds' })
}

async function work(at: Writing, typed: HoursTyped, names: Names): Promise<Errors | void> {
  const ruled = hoursRuled(at.known, typed)
  if (ruled.kind === 'refused') return said(at, ruled, names)
  return stored(at, { ...none, hours: [ruled.row] }, typed.id)
}

export async function enterLoss(at: Writing, given: z.output<typeof lossForm>): Promise<Errors | void> {
  const { id, plantingId, lostOn, percent, cause, outside, alsoNextDoor, note, surely } = given
  const ruled = lossRuled(at.known, {
    id,
    plantingId,
    lostOn,
    percent,
    cause,
    alsoNextDoor,
    note,
    isoWeek: at.week,
    outside: outside === 1,
    outsideBefore: false,
    surely: Boolean(surely),
  })
  if (ruled.kind === 'refused') return said(at, ruled, { from: 'plantingId', day: 'lostOn' })
  return stored(at, { ...none, losses: [ruled.row] }, id)
}

type Closing = Pick<ClosingTyped, 'gardenId' | 'what'>

export async function enterClosing(at: Writing, given: Closing): Promise<Errors | void> {
  const ruled = closingRuled(at.known, closingOf(at, given))
  if (ruled.kind === 'refused') return closingRefused(at, ruled, { place: 'gardenId' })
  await closeWeek(at.tx, at.author, ruled.row)
}

export async function enterReopening(
  at: Writing,
  given: Closing & { readonly reason: string },
): Promise<Errors | void> {
  const ruled = closingRuled(at.known, closingOf(at, given))
  if (ruled.kind === 'refused') return closingRefused(at, ruled, { place: 'reason' })
  await reopenWeek(at.tx, at.author.groupId, ruled.row, given.reason)
}

/** A garden is not chosen here but stands in the form: one that is not there is no mistake of whoever presses. */
function closingRefused(at: Writing, refusal: RowRefusal, names: Names): Errors {
  if (refusal.code === 'notChosen') throw notFound()
  return said(at, refusal, names)
}

const closingOf = (at: Writing, { gardenId, what }: Closing): ClosingTyped => ({
  gardenId,
  what,
  isoWeek: at.week,
  byKeeper: mayOpen(at.request.member.role, 'keeper'),
})

const said = (at: Writing, refusal: RowRefusal, names: Names): Errors =>
  errorsOf(refusal, { words: at.words, locale: at.locale, names })

async function stored(at: Writing, entries: Entries, id: string): Promise<Errors | undefined> {
  const answer = (await storeEntries(at.tx, at.author, entries)).get(id)
  return storedSaid(answer, at)
}

/** What is said of a row that was not stored: another one stands under its id, or the database speaks against it. */
function storedSaid(answer: StoredOrRefused | undefined, at: Pick<Writing, 'words'>): Errors | undefined {
  if (answer === undefined || typeof answer === 'string') return answer && saidOf(answer)
  return { id: at.words.diary.notTaken }
}
