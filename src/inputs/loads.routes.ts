import type { z } from 'zod'
import { rowOf } from '../db/amend.ts'
import { asShown } from '../lookups/unsaid.ts'
import { saidOf } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { inputNamed, isAnotherLoad, keptInput, saveArrival, saveDelivery } from './deliveries.queries.ts'
import type { arrivalForm, deliveryForm } from './inputs.form.ts'
import { deliveries, inputs } from './inputs.table.ts'
import { manureStateOf } from './manure-interval.ts'
import { type InputErrors, type InputWriting, quantityIn, todayHere } from './writing.routes.ts'

const words = () => wordsHere().inputs

type Load = z.output<ReturnType<typeof deliveryForm>>
type Arrival = z.output<ReturnType<typeof arrivalForm>>

/** A delivery, an order that has not come yet, or a batch of the group's own. */
export async function enterDelivery({ tx, author, request }: InputWriting, given: Load): Promise<InputErrors | void> {
  const { orderedOn, deliveredOn, priceMinor, deliveryPriceMinor, supplier, note } = given
  if (deliveredOn && deliveredOn > todayHere(request)) return { deliveredOn: words().dayAhead }
  if (orderedOn && orderedOn > todayHere(request)) return { orderedOn: words().dayAhead }
  const known = await inputNamed(tx, author.groupId, given.name)
  const counted = { ...given.quantity, word: given.quantity.word ?? given.unit }
  const densityKgPerM3 = given.analysis.densityKgPerM3 ?? known?.densityKgPerM3 ?? null
  const found = await quantityIn(tx, author.groupId, counted, { unit: known?.unit ?? given.unit, densityKgPerM3 })
  if ('sentence' in found) {
    const otherUnit = known && given.quantity.word === null
    return otherUnit ? { unit: words().countedIn(known.unit) } : { quantityThousandths: found.sentence }
  }
  // Harvest waits for raw manure by its name: a load in another state is another input, so that no past wait is lost.
  if (known && given.rawManure !== null && given.rawManure !== manureStateOf(known.rawManure))
    return { rawManure: words().otherState(words().rawStates[manureStateOf(known.rawManure)]) }
  const load = {
    id: given.id,
    inputId: asShown(known?.id),
    orderedOn,
    deliveredOn,
    quantityThousandths: found.thousandths,
    priceMinor,
    deliveryPriceMinor,
    supplier,
    note,
  }
  // Its input is kept only with it: what an analysis says anew is not written for a load that is not stored.
  if (await isAnotherLoad(tx, author, load)) return saidOf('another')
  return saidOf(await saveDelivery(tx, author, { ...load, inputId: await keptInput(tx, author, given) }))
}

export async function enterArrival({ tx, author, request }: InputWriting, given: Arrival): Promise<InputErrors | void> {
  const row = await rowOf(tx, deliveries, author.groupId, given.deliveryId)
  const input = row && (await rowOf(tx, inputs, author.groupId, row.inputId))
  if (!row || !input) return { deliveryId: wordsHere().fields.notChosen }
  if (row.deliveredOn === given.deliveredOn) return
  if (row.deliveredOn !== null) return { deliveryId: words().hasCome }
  if (given.deliveredOn > todayHere(request)) return { deliveredOn: words().dayAhead }
  if (row.orderedOn && given.deliveredOn < row.orderedOn) return { deliveredOn: words().beforeOrder }
  const found = given.quantity && (await quantityIn(tx, author.groupId, given.quantity, input))
  if (found && 'sentence' in found) return { quantity: found.sentence }
  const came = await saveArrival(tx, row, {
    deliveredOn: given.deliveredOn,
    ...(found ? { quantityThousandths: found.thousandths } : {}),
    ...(given.priceMinor === null ? {} : { priceMinor: given.priceMinor }),
  })
  if (!came) return { deliveryId: wordsHere().fields.notChosen }
}
