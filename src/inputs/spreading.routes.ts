import type { z } from 'zod'
import { formatNumber } from '../quantities/formatting.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { saidOf } from '../web/form.ts'
import { catalogue } from '../words/catalogue.ts'
import { deliveryForSpreading, placesOf, saveApplication } from './applications.queries.ts'
import type { spreadingForm } from './inputs.form.ts'
import type { Counted } from './measures.ts'
import { placeNamed } from './place.ts'
import { type Errors, quantityIn, today, type Writing } from './writing.routes.ts'

const words = catalogue.inputs

export async function enterSpreading(at: Writing, given: z.output<typeof spreadingForm>): Promise<Errors | void> {
  const { place, quantity, ...rest } = given
  const known = placeNamed(await placesOf(at.tx, at.author.groupId), place)
  if (!known) return { place: catalogue.fields.notChosen }
  const taken = await takenFrom(at, { ...rest, quantity })
  if ('errors' in taken) return taken.errors
  const spread = { ...rest, place: known, quantityThousandths: taken.quantityThousandths }
  return saidOf(await saveApplication(at.tx, at.author, spread))
}

interface Taking {
  readonly id: string
  readonly deliveryId: string
  readonly seasonId: string
  readonly appliedOn: string
  readonly quantity: Counted
}

/** What is spread comes from a delivery that has come, of which that much is left; the row's own part is not counted twice. */
export async function takenFrom(
  { tx, author, request }: Writing,
  given: Taking,
): Promise<{ errors: Errors } | { quantityThousandths: number }> {
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
  if (!(await seasonsOf(tx, author.groupId)).some((season) => season.id === given.seasonId))
    return { errors: { seasonId: catalogue.fields.notChosen } }
  return { quantityThousandths: found.thousandths }
}
