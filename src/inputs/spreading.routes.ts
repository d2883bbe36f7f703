import type { z } from 'zod'
import type { Tx } from '../db/database.ts'
import { idAfter } from '../db/new-id.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { splitExactly } from '../quantities/split-exactly.ts'
import { assignmentsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { saidOf } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { deliveryForSpreading, placesOf, saveApplication } from './applications.queries.ts'
import type { spreadingForm } from './inputs.form.ts'
import type { Counted as Amount } from './measures.ts'
import { areaOfPlace, type Place, placeNamed } from './place.ts'
import { type CountedToward, countedToward } from './spreading-rule.ts'
import { type InputErrors, type InputWriting, quantityIn, todayHere } from './writing.routes.ts'

const words = () => wordsHere().inputs

export async function enterSpreading(
  at: InputWriting,
  given: z.output<typeof spreadingForm>,
): Promise<InputErrors | void> {
  const { place, quantity, ...rest } = given
  const known = placeNamed(await placesOf(at.tx, at.author.groupId), place)
  if (!known) return { place: wordsHere().fields.notChosen }
  const taken = await takenFrom(at, { ...rest, quantity, place: known })
  if ('errors' in taken) return taken.errors
  const { seasonId, phase, quantityThousandths } = taken
  const spread = { ...rest, place: known, seasonId, phase, quantityThousandths }
  return saidOf(await saveApplication(at.tx, at.author, spread))
}

/** One load over several places: divided by their area, so that the parts add up exactly; all of them, or none. */
export async function enterSpreadingOver(
  at: InputWriting,
  given: z.output<typeof spreadingForm>,
  /** As forms name them. */
  places: readonly string[],
): Promise<InputErrors | void> {
  const { place: _one, quantity, ...rest } = given
  const all = await placesOf(at.tx, at.author.groupId)
  const known = places.map((place) => placeNamed(all, place)).filter((place) => place !== undefined)
  if (known.length < places.length || overlap(known)) return { place: words().placesOverlap }
  const total = await inInputsUnit(at, { ...rest, quantity })
  if ('errors' in total) return total.errors
  const parts = splitExactly(
    total.thousandths,
    known.map((place) => areaOfPlace(place, rest.appliedOn)),
  )
  if (!parts) return { place: wordsHere().fields.notChosen }
  try {
    // A savepoint: where one part is not taken, none is.
    await at.tx.transaction(async (tx) => {
      for (const [i, place] of known.entries()) {
        // A place of no area gets none of the load.
        const part = { ...rest, place, id: idAfter(given.id, i + 1), thousandths: parts[i] ?? 0 }
        const errors = await enterPart({ ...at, tx }, part)
        if (errors) throw new PartNotTaken(errors)
      }
    })
  } catch (error) {
    if (error instanceof PartNotTaken) return error.errors
    throw error
  }
}

class PartNotTaken extends Error {
  readonly errors: InputErrors
  constructor(errors: InputErrors) {
    super('A part of a spreading was not taken')
    this.errors = errors
  }
}

type Part = Omit<Taking, 'quantity'> & { readonly thousandths: number; readonly depthMm: number | null }

async function enterPart(at: InputWriting, { thousandths, ...part }: Part): Promise<InputErrors | void> {
  const taken = await takenFrom(at, { ...part, quantity: { thousandths, word: null } })
  if ('errors' in taken) return taken.errors
  return saidOf(await saveApplication(at.tx, at.author, { ...part, ...taken }))
}

/** A bed twice, or a bed beside its garden, would be counted twice. */
function overlap(places: readonly Place[]): boolean {
  const beds = places.flatMap((place) => place.bedIds)
  return new Set(beds).size < beds.length
}

/** What was typed in the unit of what is spread; as much as that must be left, counted over all places. */
async function inInputsUnit(
  { tx, author }: InputWriting,
  { deliveryId, id, quantity }: Pick<Taking, 'deliveryId' | 'id' | 'quantity'>,
) {
  const delivery = await deliveryForSpreading(tx, author.groupId, deliveryId, id)
  if (!delivery?.input) return { errors: { deliveryId: wordsHere().fields.notChosen } }
  const found = await quantityIn(tx, author.groupId, quantity, delivery.input)
  return 'sentence' in found ? { errors: { quantityThousandths: found.sentence } } : found
}

interface Taking {
  readonly id: string
  readonly deliveryId: string
  readonly seasonId: string | null
  readonly phase: string | null
  readonly place: Place
  readonly appliedOn: IsoDate
  readonly quantity: Amount
}

/**
 * What is spread comes from a delivery that has come, of which that much is left; the row's own part is not counted
 * twice.
 */
export async function takenFrom(
  { tx, author, request }: InputWriting,
  given: Taking,
): Promise<{ errors: InputErrors } | Taken> {
  const { locale } = request.member.group
  if (given.appliedOn > todayHere(request)) return { errors: { appliedOn: words().dayAhead } }
  const delivery = await deliveryForSpreading(tx, author.groupId, given.deliveryId, given.id)
  if (!delivery?.input) return { errors: { deliveryId: wordsHere().fields.notChosen } }
  if (delivery.deliveredOn === null) return { errors: { deliveryId: words().notCome } }
  if (given.appliedOn < delivery.deliveredOn) return { errors: { appliedOn: words().beforeDelivery } }
  const found = await quantityIn(tx, author.groupId, given.quantity, delivery.input)
  if ('sentence' in found) return { errors: { quantityThousandths: found.sentence } }
  const left = delivery.leftThousandths
  if (found.thousandths > left)
    return { errors: { quantityThousandths: words().noneLeft(formatNumber(left / 1000, locale, 1)) } }
  const counted = await loadCountedAt(tx, author.groupId, given)
  if (counted.kind === 'refused') return { errors: { [counted.field]: saidOfCount(counted) } }
  return { quantityThousandths: found.thousandths, seasonId: counted.seasonId, phase: counted.phase }
}

interface Taken {
  readonly quantityThousandths: number
  readonly seasonId: string
  readonly phase: string | null
}

/** Season and phase of a spreading, by its day and its ground. */
export async function loadCountedAt(
  tx: Tx,
  groupId: string,
  { place, appliedOn, seasonId, phase }: Omit<Taking, 'quantity'>,
) {
  const [seasons, assignments] = [await seasonsOf(tx, groupId), await assignmentsOf(tx, groupId)]
  return countedToward(seasons, assignments, place, { day: appliedOn, seasonId, phase })
}

function saidOfCount({ code, name }: Extract<CountedToward, { kind: 'refused' }>): string {
  if (code === 'otherSeason') return words().otherSeason(name)
  if (code === 'otherPhase') return words().otherPhase(words().phases[name as keyof ReturnType<typeof words>['phases']])
  return code === 'noSeason' ? words().dayInNoSeason : words().phaseUnknown
}
