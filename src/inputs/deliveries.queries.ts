import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import { amend } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { type Stored, standsUnder, storeOnce } from '../db/store-once.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { applications, deliveries, inputs } from './inputs.table.ts'
import type { DeliveryRow } from './load.ts'
import { type ManureState, manureStates } from './manure-interval.ts'

const spread = sql<string>`coalesce((select sum(${applications.quantityThousandths}) from ${applications}
  where ${applications.groupId} = ${deliveries.groupId} and ${applications.deliveryId} = ${deliveries.id}
    and ${applications.removedAt} is null), 0)`

/** The group's deliveries, first come first and what has not come last, with what has been spread of each. */
export async function deliveriesOf(tx: Tx, groupId: string): Promise<DeliveryRow[]> {
  const rows = await tx
    .select({ delivery: deliveries, input: inputs, spread })
    .from(deliveries)
    .innerJoin(inputs, and(eq(inputs.groupId, deliveries.groupId), eq(inputs.id, deliveries.inputId)))
    .where(and(eq(deliveries.groupId, groupId), isNull(deliveries.removedAt)))
    .orderBy(asc(deliveries.deliveredOn), asc(deliveries.orderedOn), asc(deliveries.id))
  return rows.map(({ delivery, input, spread }) => ({
    id: delivery.id,
    inputId: input.id,
    inputName: input.name,
    kind: input.kind,
    unit: input.unit,
    orderedOn: delivery.orderedOn,
    deliveredOn: delivery.deliveredOn,
    quantityThousandths: delivery.quantityThousandths,
    spreadThousandths: Number(spread),
    priceMinor: delivery.priceMinor,
    deliveryPriceMinor: delivery.deliveryPriceMinor,
    usefulLifeSeasons: input.usefulLifeSeasons,
    ownMade: input.ownMade === 1,
    rawManure: input.rawManure,
    moisturePermille: input.moisturePermille,
    densityKgPerM3: input.densityKgPerM3,
    nitrogenMgPerKg: input.nitrogenMgPerKg,
    phosphorusMgPerKg: input.phosphorusMgPerKg,
    potassiumMgPerKg: input.potassiumMgPerKg,
  }))
}

export const inputsOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(inputs)
    .where(and(eq(inputs.groupId, groupId), isNull(inputs.removedAt)))
    .orderBy(asc(inputs.name), asc(inputs.id))

type InputRow = typeof inputs.$inferSelect

export async function inputNamed(tx: Tx, groupId: string, name: string): Promise<InputRow | undefined> {
  return (await inputsOf(tx, groupId)).find((one) => one.name === name)
}

interface AnalysisKept {
  readonly moisturePermille: number | null
  readonly densityKgPerM3: number | null
  readonly nitrogenMgPerKg: number | null
  readonly phosphorusMgPerKg: number | null
  readonly potassiumMgPerKg: number | null
  readonly source: string | null
}

interface NewInput {
  readonly name: string
  readonly kind: string
  readonly unit: string
  readonly usefulLifeSeasons: number
  readonly ownMade: boolean
  readonly rawManure: ManureState | null
  readonly analysis: AnalysisKept
}

/** The input of this name; what an analysis says anew is written over what stood, and the history keeps both. */
export async function keptInput(tx: Tx, author: Author, given: NewInput): Promise<string> {
  const known = await inputNamed(tx, author.groupId, given.name)
  if (!known) return addInput(tx, author, given)
  const anew = Object.entries(given.analysis).filter(
    ([name, value]) => value !== null && value !== known[name as keyof InputRow],
  )
  if (anew.length > 0) await amend(tx, inputs, known, Object.fromEntries(anew))
  return known.id
}

async function addInput(tx: Tx, author: Author, given: NewInput): Promise<string> {
  const { analysis, ownMade, rawManure, ...rest } = given
  const { name, kind, unit, usefulLifeSeasons } = rest
  const id = newId()
  await tx.insert(inputs).values({
    ...author,
    id,
    name,
    kind,
    unit,
    usefulLifeSeasons,
    ...analysis,
    ownMade: ownMade ? 1 : 0,
    rawManure: manureStates[rawManure ?? 'no'],
  })
  return id
}

interface NewDelivery {
  readonly id: string
  readonly inputId: string
  readonly orderedOn: IsoDate | null
  readonly deliveredOn: IsoDate | null
  readonly quantityThousandths: number
  readonly priceMinor: number | null
  readonly deliveryPriceMinor: number
  readonly supplier: string | null
  readonly note: string | null
}

export const saveDelivery = (tx: Tx, author: Author, given: NewDelivery): Promise<Stored> =>
  storeOnce(tx, deliveries, { ...author, ...given })

/** Whether another load stands under the id of this one; `inputId` is blank where its input is not known yet. */
export const isAnotherLoad = async (tx: Tx, author: Author, given: NewDelivery): Promise<boolean> =>
  (await standsUnder(tx, deliveries, { ...author, ...given })) === 'another'

/** What was ordered has come. */
export async function saveArrival(
  tx: Tx,
  seen: { groupId: string; id: string; version: number },
  given: { deliveredOn: IsoDate; quantityThousandths?: number; priceMinor?: number },
): Promise<boolean> {
  return amend(tx, deliveries, seen, given)
}
