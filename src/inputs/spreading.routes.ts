import type { z } from 'zod'
import type { Tx } from '../db/database.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { assignmentsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { saidOf } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import { deliveryForSpreading, placesOf, saveApplication } from './applications.queries.ts'
import type { spreadingForm } from './inputs.form.ts'
import type { Counted as Amount } from './measures.ts'
import { type Place, placeNamed } from './place.ts'
import { type Counted, countedToward } from './spreading-rule.ts'
import { type Errors, quantityIn, today, type Writing } from './writing.routes.ts'

const words = catalogue.inputs

export async function enterSpreading(at: Writing, given: z.output<typeof spreadingForm>): Promise<Errors | void> {
  const { place, quantity, ...rest } = given
  const known = placeNamed(await placesOf(at.tx, at.author.groupId), place)
  if (!known) return { place: catalogue.fields.notChosen }
  const taken = await takenFrom(at, { ...rest, quantity, place: known })
  if ('errors' in taken) return taken.errors
  const { seasonId, phase, quantityThousandths } = taken
  const spread = { ...rest, place: known, seasonId, phase, quantityThousandths }
  return saidOf(await saveApplication(at.tx, at.author, spread))
}

interface Taking {
  readonly id: string
  readonly deliveryId: string
  readonly seasonId: string | null
  readonly phase: string | null
  readonly place: Place
  readonly appliedOn: string
  readonly quantity: Amount
}

/** What is spread comes from a delivery that has come, of which that much is left; the row's own part is not counted twice. */
export async function takenFrom({ tx, author, request }: Writing, given: Taking): Promise<{ errors: Errors } | Taken> {
  const { locale } = request.member.group
  if (given.appliedOn > today(request)) return { errors: { appliedOn: words.dayAhead } }
  const delivery = await deliveryForSpreading(tx, author.groupId, given.deliveryId, given.id)
  if (!delivery?.input) return { errors: { deliveryId: catalogue.fields.notChosen } }
  if (delivery.deliveredOn === null) return { errors: { deliveryId: words.notCome } }
  if (given.appliedOn < delivery.deliveredOn) return { errors: { appliedOn: words.beforeDelivery } }
  const found = await quantityIn(tx, author.groupId, given.quantity, delivery.input)
  if ('sentence' in found) return { errors: { quantityThousandths: found.sentence } }
  const left = delivery.leftThousandths
  if (found.thousandths > left)
    return { errors: { quantityThousandths: words.noneLeft(formatNumber(left / 1000, locale, 1)) } }
  const counted = await countedAt(tx, author.groupId, given)
  if (counted.kind === 'refused') return { errors: { [counted.field]: saidOfCount(counted) } }
  return { quantityThousandths: found.thousandths, seasonId: counted.seasonId, phase: counted.phase }
}

interface Taken {
  readonly quantityThousandths: number
  readonly seasonId: string
  readonly phase: string
}

/** Season and phase of a spreading, by its day and its ground. */
export async function countedAt(
  tx: Tx,
  groupId: string,
  { place, appliedOn, seasonId, phase }: Omit<Taking, 'quantity'>,
) {
  const [seasons, assignments] = [await seasonsOf(tx, groupId), await assignmentsOf(tx, groupId)]
  return countedToward(seasons, assignments, place, { day: appliedOn, seasonId, phase })
}

function saidOfCount({ code, name }: Extract<Counted, { kind: 'refused' }>): string {
  if (code === 'otherSeason') return words.otherSeason(name)
  if (code === 'otherPhase') return words.otherPhase(words.phases[name as keyof typeof words.phases])
  return code === 'noSeason' ? words.dayInNoSeason : words.phaseUnknown
}
