import type { FastifyInstance, FastifyRequest } from 'fastify'
import { amend, ofTable, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { asShown } from '../lookups/unsaid.ts'
import { moneyAsTyped, thousandthsAsTyped } from '../quantities/as-typed.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { decimalsOf } from '../quantities/money.ts'
import { seasonIsClosed, seasonsOf } from '../seasons/seasons.queries.ts'
import { type Correctable, choicesOf, correcting, type FieldShown, stillUsed } from '../web/correcting.ts'
import { wordsHere } from '../web/words-here.ts'
import { deliveryForSpreading, placesOf, whereIn } from './applications.queries.ts'
import { deliveryCorrection, spreadingCorrection } from './inputs.form.ts'
import { applications, deliveries, inputs } from './inputs.table.ts'
import type { Counted } from './measures.ts'
import { type Place, placeKey, placeNamed, placeOfRow } from './place.ts'
import { isSpreadInClosed } from './spread-in-closed.queries.ts'
import { loadCountedAt, takenFrom } from './spreading.routes.ts'
import { type InputErrors, quantityIn, todayHere } from './writing.routes.ts'

const words = () => wordsHere().inputs
const f = () => words().fields
const back = (_row: unknown, request: FastifyRequest) => `/g/${request.member.group.slug}/inputs`

type Input = typeof inputs.$inferSelect

interface Delivered {
  readonly orderedOn: IsoDate | null
  readonly deliveredOn: IsoDate | null
  readonly quantity: Counted
  readonly priceMinor: number | null
  readonly deliveryPriceMinor: number
}

type Delivery = typeof deliveries.$inferSelect & { readonly input: Input }

async function deliveryWithInput(tx: Tx, groupId: string, id: string): Promise<Delivery | undefined> {
  const row = await rowOf(tx, deliveries, groupId, id)
  const own = row && (await rowOf(tx, inputs, groupId, row.inputId))
  return row && own && { ...row, input: own }
}

const delivery: Correctable<Delivery, Delivered> = {
  ...ofTable(deliveries),
  find: deliveryWithInput,
  kind: 'deliveries',
  access: 'recorder',
  title: (row) => row.input.name,
  fields: (row, request) => [
    {
      name: 'quantityThousandths',
      label: f().quantity,
      hint: f().quantityHint,
      value: `${thousandthsAsTyped(row.quantityThousandths)} ${row.input.unit}`,
    },
    { name: 'orderedOn', label: f().orderedOn, type: 'date', value: asShown(row.orderedOn) },
    { name: 'deliveredOn', label: f().day, type: 'date', value: asShown(row.deliveredOn) },
    { name: 'priceMinor', label: f().price, hint: f().priceHint, value: asMoney(row.priceMinor, request) },
    { name: 'deliveryPriceMinor', label: f().deliveryPrice, value: asMoney(row.deliveryPriceMinor, request) },
    { name: 'supplier', label: f().supplier, value: asShown(row.supplier) },
    { name: 'note', label: f().note, value: asShown(row.note) },
  ],
  form: (request) => deliveryCorrection(request.member.group.currency),
  restsOn: async (tx, row, { quantity, priceMinor, deliveryPriceMinor }) => {
    const found = await quantityIn(tx, row.groupId, quantity, row.input)
    const isOther = 'thousandths' in found && found.thousandths !== row.quantityThousandths
    const costs = priceMinor !== row.priceMinor || deliveryPriceMinor !== row.deliveryPriceMinor
    return (isOther || costs) && (await isSpreadInClosed(tx, row.groupId, { deliveryId: row.id }))
  },
  save: async (tx, seen, { quantity, ...given }, row) => {
    const found = await quantityIn(tx, seen.groupId, quantity, row.input)
    return 'thousandths' in found && amend(tx, deliveries, seen, { ...given, quantityThousandths: found.thousandths })
  },
  refuse: deliveryRefused,
  constraints: stillUsed,
  back,
}

const asMoney = (minor: number | null, request: FastifyRequest) =>
  minor === null ? '' : moneyAsTyped(minor, decimalsOf(request.member.group.currency))

/** What was spread of a load must have come with it, and before it was spread. */
async function deliveryRefused(
  tx: Tx,
  row: Delivery,
  given: Delivered | null,
  request: FastifyRequest,
): Promise<InputErrors | undefined> {
  if (!given) return undefined
  if (given.deliveredOn && given.deliveredOn > todayHere(request)) return { deliveredOn: words().dayAhead }
  if (given.orderedOn && given.orderedOn > todayHere(request)) return { orderedOn: words().dayAhead }
  const found = await quantityIn(tx, row.groupId, given.quantity, row.input)
  if ('sentence' in found) return { quantityThousandths: found.sentence }
  const taken = await deliveryForSpreading(tx, row.groupId, row.id, '')
  if (!taken || taken.firstSpreadOn === null) return undefined
  if (given.deliveredOn === null || given.deliveredOn > taken.firstSpreadOn)
    return { deliveredOn: words().afterSpreading }
  const spread = formatNumber(taken.spreadThousandths / 1000, request.member.group.locale, 1)
  if (found.thousandths < taken.spreadThousandths) return { quantityThousandths: words().lessThanSpread(spread) }
  return undefined
}

interface Spread {
  readonly place: string
  readonly quantity: Counted
  readonly appliedOn: IsoDate
  readonly seasonId: string | null
  readonly phase: string | null
}

type Spreading = typeof applications.$inferSelect & {
  readonly load: Delivery
  readonly places: readonly Place[]
  readonly seasonChoices: { value: string; label: string }[]
}

async function spreadingWithLoad(tx: Tx, groupId: string, id: string): Promise<Spreading | undefined> {
  const row = await rowOf(tx, applications, groupId, id)
  const load = row && (await deliveryWithInput(tx, groupId, row.deliveryId))
  if (!row || !load) return undefined
  const seasonChoices = (await seasonsOf(tx, groupId)).map(({ id: value, name }) => ({ value, label: name }))
  return { ...row, load, places: await placesOf(tx, groupId), seasonChoices }
}

const byDay = {
  value: '',
  get label() {
    return words().byDay
  },
}
const byGround = {
  value: '',
  get label() {
    return words().byGround
  },
}

const spreading: Correctable<Spreading, Spread> = {
  ...ofTable(applications),
  find: spreadingWithLoad,
  kind: 'applications',
  access: 'recorder',
  title: (row) => `${row.load.input.name}, ${row.appliedOn}`,
  fields: (row): FieldShown[] => [
    {
      name: 'quantityThousandths',
      label: f().quantity,
      hint: f().quantityHint,
      value: `${thousandthsAsTyped(row.quantityThousandths)} ${row.load.input.unit}`,
    },
    {
      name: 'place',
      label: f().place,
      value: standsAt(row),
      options: row.places.map((place) => ({ value: placeKey(place), label: placeSaid(place) })),
    },
    { name: 'depthMm', label: f().depth, value: row.depthMm === null ? '' : `${row.depthMm} mm` },
    { name: 'appliedOn', label: f().appliedOn, type: 'date', value: row.appliedOn },
    { name: 'seasonId', label: f().season, value: row.seasonId, options: [byDay, ...row.seasonChoices] },
    {
      name: 'phase',
      label: f().phase,
      value: row.phase ?? byGround.value,
      options: [byGround, ...choicesOf(words().phases)],
    },
  ],
  form: () => spreadingCorrection,
  closed: seasonIsClosed,
  save: async (tx, seen, { quantity, place, ...given }, row) => {
    const found = await quantityIn(tx, seen.groupId, quantity, row.load.input)
    const at = placeNamed(row.places, place)
    if (!at || 'sentence' in found) return false
    const where = whereIn(at)
    const counted = await loadCountedAt(tx, seen.groupId, {
      ...given,
      id: row.id,
      deliveryId: row.deliveryId,
      place: at,
    })
    if (counted.kind === 'refused') return false
    const { seasonId, phase } = counted
    return amend(tx, applications, seen, {
      ...given,
      ...where,
      seasonId,
      phase,
      quantityThousandths: found.thousandths,
    })
  },
  refuse: async (tx, row, given, request) => {
    if (!given) return undefined
    const place = placeNamed(row.places, given.place)
    if (!place) return { place: wordsHere().fields.notChosen }
    const author = { groupId: row.groupId, createdBy: null }
    const { quantity, appliedOn, seasonId, phase } = given
    const at = { id: row.id, deliveryId: row.deliveryId, quantity, appliedOn, seasonId, phase, place }
    const taken = await takenFrom({ tx, author, request }, at)
    return 'errors' in taken ? taken.errors : undefined
  },
  back,
}

const standsAt = (row: Spreading) => {
  const place = placeOfRow(row.places, row)
  return place ? placeKey(place) : ''
}

function placeSaid({ gardenName, bedName, plantingName }: Place): string {
  if (bedName === null) return words().wholeGarden(gardenName)
  return plantingName === null ? words().bed(gardenName, bedName) : words().planting(gardenName, bedName, plantingName)
}

/** Loads and what was spread of them: the one is never corrected below the other. */
export function loadCorrections(app: FastifyInstance): void {
  correcting(app, delivery)
  correcting(app, spreading)
}
