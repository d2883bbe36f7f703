import type { FastifyInstance, FastifyRequest } from 'fastify'
import { amend, ofTable, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { moneyAsTyped, weightAsTyped } from '../quantities/as-typed.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { decimalsOf } from '../quantities/money.ts'
import { seasonsOf } from '../seasons/seasons.queries.ts'
import { type Correctable, choicesOf, correcting, type FieldShown } from '../web/correcting.ts'
import { catalogue } from '../words/catalogue.ts'
import { deliveryForSpreading } from './applications.queries.ts'
import { heapCorrection } from './heaps.form.ts'
import {
  deliveryCorrection,
  inputCorrection,
  inputKinds,
  measureCorrection,
  spreadingCorrection,
} from './inputs.form.ts'
import { applications, deliveries, inputs, measures, stocks } from './inputs.table.ts'
import { type ManureState, manureStateOf, manureStates } from './manure-interval.ts'
import type { Counted } from './measures.ts'
import { takenFrom } from './spreading.routes.ts'
import { type Errors, quantityIn, today } from './writing.routes.ts'

const words = catalogue.inputs
const f = words.fields
const used = { stays_while_used: { reason: catalogue.correcting.stillUsed } }
const nameTaken = { name: catalogue.gardens.nameTaken }
const back = (_row: unknown, request: FastifyRequest) => `/g/${request.member.group.slug}/inputs`
const orBlank = (value: number | null, per = 1) => (value === null ? '' : String(value / per))

type Input = typeof inputs.$inferSelect

interface InputGiven {
  readonly ownMade: boolean
  readonly rawManure: ManureState | null
}

const input: Correctable<Input, InputGiven> = {
  ...ofTable(inputs),
  kind: 'inputs',
  access: 'recorder',
  title: (row) => row.name,
  fields: (row) => [
    { name: 'name', label: f.name, value: row.name },
    {
      name: 'kind',
      label: f.kind,
      value: row.kind,
      options: inputKinds.map((kind) => ({ value: kind, label: words.kinds[kind] })),
    },
    { name: 'unit', label: f.unit, hint: f.unitCorrected, value: row.unit },
    { name: 'ownMade', label: f.ownMade, value: row.ownMade ? 'own' : 'bought', options: madeChoices },
    { name: 'usefulLifeSeasons', label: f.life, value: String(row.usefulLifeSeasons) },
    {
      name: 'rawManure',
      label: f.rawManure,
      hint: f.rawManureHint,
      value: manureStateOf(row.rawManure),
      options: choicesOf(words.rawStates),
    },
    { name: 'moisture', label: f.moisture, value: orBlank(row.moisturePermille, 10) },
    { name: 'densityKgPerM3', label: f.density, hint: f.densityHint, value: orBlank(row.densityKgPerM3) },
    { name: 'basis', label: f.basis, value: 'element', options: choicesOf(words.bases) },
    { name: 'nitrogen', label: f.nitrogen, value: orBlank(row.nitrogenMgPerKg, 10_000) },
    { name: 'phosphorus', label: f.phosphorus, value: orBlank(row.phosphorusMgPerKg, 10_000) },
    { name: 'potassium', label: f.potassium, value: orBlank(row.potassiumMgPerKg, 10_000) },
    { name: 'source', label: f.source, value: row.source ?? '' },
  ],
  form: () => inputCorrection,
  save: (tx, seen, { ownMade, rawManure, ...given }) =>
    amend(tx, inputs, seen, { ...given, ownMade: ownMade ? 1 : 0, rawManure: manureStates[rawManure ?? 'no'] }),
  constraints: { inputs_name_is_taken: nameTaken, ...used },
  back,
}

const madeChoices = [
  { value: 'bought', label: words.bought },
  { value: 'own', label: words.ownMade },
]

interface Delivered {
  readonly orderedOn: string | null
  readonly deliveredOn: string | null
  readonly quantity: Counted
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
      label: f.quantity,
      hint: f.quantityHint,
      value: `${row.quantityThousandths / 1000} ${row.input.unit}`,
    },
    { name: 'orderedOn', label: f.orderedOn, type: 'date', value: row.orderedOn ?? '' },
    { name: 'deliveredOn', label: f.day, type: 'date', value: row.deliveredOn ?? '' },
    { name: 'priceMinor', label: f.price, hint: f.priceHint, value: asMoney(row.priceMinor, request) },
    { name: 'deliveryPriceMinor', label: f.deliveryPrice, value: asMoney(row.deliveryPriceMinor, request) },
    { name: 'supplier', label: f.supplier, value: row.supplier ?? '' },
    { name: 'note', label: f.note, value: row.note ?? '' },
  ],
  form: (request) => deliveryCorrection(request.member.group.currency),
  save: async (tx, seen, { quantity, ...given }, row) => {
    const found = await quantityIn(tx, seen.groupId, quantity, row.input)
    return 'thousandths' in found && amend(tx, deliveries, seen, { ...given, quantityThousandths: found.thousandths })
  },
  refuse: deliveryRefused,
  constraints: used,
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
): Promise<Errors | undefined> {
  if (!given) return undefined
  if (given.deliveredOn && given.deliveredOn > today(request)) return { deliveredOn: words.dayAhead }
  if (given.orderedOn && given.orderedOn > today(request)) return { orderedOn: words.dayAhead }
  const found = await quantityIn(tx, row.groupId, given.quantity, row.input)
  if ('sentence' in found) return { quantityThousandths: found.sentence }
  const taken = await deliveryForSpreading(tx, row.groupId, row.id, '')
  if (!taken || taken.firstSpreadOn === null) return undefined
  if (given.deliveredOn === null || given.deliveredOn > taken.firstSpreadOn)
    return { deliveredOn: words.afterSpreading }
  const spread = formatNumber(taken.spreadThousandths / 1000, request.member.group.locale, 1)
  if (found.thousandths < taken.spreadThousandths) return { quantityThousandths: words.lessThanSpread(spread) }
  return undefined
}

interface Spread {
  readonly quantity: Counted
  readonly appliedOn: string
  readonly seasonId: string
}

type Spreading = typeof applications.$inferSelect & {
  readonly load: Delivery
  readonly seasonChoices: { value: string; label: string }[]
}

async function spreadingWithLoad(tx: Tx, groupId: string, id: string): Promise<Spreading | undefined> {
  const row = await rowOf(tx, applications, groupId, id)
  const load = row && (await deliveryWithInput(tx, groupId, row.deliveryId))
  if (!row || !load) return undefined
  const seasonChoices = (await seasonsOf(tx, groupId)).map(({ id: value, name }) => ({ value, label: name }))
  return { ...row, load, seasonChoices }
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
      label: f.quantity,
      hint: f.quantityHint,
      value: `${row.quantityThousandths / 1000} ${row.load.input.unit}`,
    },
    { name: 'depthMm', label: f.depth, value: orBlank(row.depthMm) },
    { name: 'appliedOn', label: f.appliedOn, type: 'date', value: row.appliedOn },
    { name: 'seasonId', label: f.season, value: row.seasonId, options: row.seasonChoices },
    { name: 'phase', label: f.phase, value: row.phase, options: choicesOf(words.phases) },
  ],
  form: () => spreadingCorrection,
  save: async (tx, seen, { quantity, ...given }, row) => {
    const found = await quantityIn(tx, seen.groupId, quantity, row.load.input)
    return 'thousandths' in found && amend(tx, applications, seen, { ...given, quantityThousandths: found.thousandths })
  },
  refuse: async (tx, row, given, request) => {
    if (!given) return undefined
    const author = { groupId: row.groupId, createdBy: null }
    const { quantity, appliedOn, seasonId } = given
    const at = { id: row.id, deliveryId: row.deliveryId, quantity, appliedOn, seasonId }
    const taken = await takenFrom({ tx, author, request }, at)
    return 'errors' in taken ? taken.errors : undefined
  },
  back,
}

const measure: Correctable<typeof measures.$inferSelect, object> = {
  ...ofTable(measures),
  kind: 'measures',
  access: 'recorder',
  title: (row) => row.name,
  fields: (row, request) => [
    { name: 'name', label: f.measureName, value: row.name },
    { name: 'litres', label: f.litres, value: orBlank(row.volumeMl, 1000) },
    {
      name: 'weight',
      label: f.weight,
      value: row.massG === null ? '' : weightAsTyped(row.massG, request.member.group.weightUnit),
    },
  ],
  form: (request) => measureCorrection(request.member.group.weightUnit),
  constraints: { measures_name_is_taken: nameTaken },
  back,
}

const heap: Correctable<typeof stocks.$inferSelect, { readyOn: string | null; startedOn: string }> = {
  ...ofTable(stocks),
  kind: 'stocks',
  access: 'recorder',
  title: (row) => row.name,
  fields: (row) => [
    { name: 'name', label: catalogue.heaps.fields.name, value: row.name },
    { name: 'startedOn', label: catalogue.heaps.fields.startedOn, type: 'date', value: row.startedOn },
    { name: 'readyOn', label: catalogue.heaps.fields.readyOn, type: 'date', value: row.readyOn ?? '' },
  ],
  form: () => heapCorrection,
  refuse: async (_tx, _row, given, request) =>
    given && (given.readyOn ?? given.startedOn) > today(request) ? { readyOn: words.dayAhead } : undefined,
  back,
}

export function inputCorrections(app: FastifyInstance): void {
  correcting(app, input)
  correcting(app, delivery)
  correcting(app, spreading)
  correcting(app, measure)
  correcting(app, heap)
}
