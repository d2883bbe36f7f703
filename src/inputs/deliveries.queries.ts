import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { applications, deliveries, inputs } from './inputs.table.ts'

export interface DeliveryRow {
  readonly id: string
  readonly inputName: string
  readonly kind: string
  readonly unit: string
  readonly deliveredOn: string
  readonly quantityThousandths: number
  readonly spreadThousandths: number
  readonly priceMinor: number | null
  readonly deliveryPriceMinor: number
  readonly usefulLifeSeasons: number
  readonly ownMade: boolean
}

const spread = sql<string>`coalesce((select sum(${applications.quantityThousandths}) from ${applications}
  where ${applications.groupId} = ${deliveries.groupId} and ${applications.deliveryId} = ${deliveries.id}
    and ${applications.removedAt} is null), 0)`

/** The group's deliveries, first come first, with what has been spread of each. */
export async function deliveriesOf(tx: Tx, groupId: string): Promise<DeliveryRow[]> {
  const rows = await tx
    .select({ delivery: deliveries, input: inputs, spread })
    .from(deliveries)
    .innerJoin(inputs, and(eq(inputs.groupId, deliveries.groupId), eq(inputs.id, deliveries.inputId)))
    .where(and(eq(deliveries.groupId, groupId), isNull(deliveries.removedAt)))
    .orderBy(asc(deliveries.deliveredOn), asc(deliveries.id))
  return rows.map(({ delivery, input, spread }) => ({
    id: delivery.id,
    inputName: input.name,
    kind: input.kind,
    unit: input.unit,
    deliveredOn: delivery.deliveredOn,
    quantityThousandths: delivery.quantityThousandths,
    spreadThousandths: Number(spread),
    priceMinor: delivery.priceMinor,
    deliveryPriceMinor: delivery.deliveryPriceMinor,
    usefulLifeSeasons: input.usefulLifeSeasons,
    ownMade: input.ownMade === 1,
  }))
}

export interface NewDelivery {
  readonly id: string
  readonly inputId: string
  readonly name: string
  readonly kind: string
  readonly unit: string
  readonly usefulLifeSeasons: number
  readonly ownMade: boolean
  readonly deliveredOn: string
  readonly quantityThousandths: number
  readonly priceMinor: number | null
  readonly deliveryPriceMinor: number
  readonly supplier: string | null
}

/** Keeps the input under its name and adds the delivery; a form sent twice is stored once. */
export async function saveDelivery(
  tx: Tx,
  groupId: string,
  personId: string | null,
  given: NewDelivery,
): Promise<void> {
  const inputId = (await inputNamed(tx, groupId, given.name)) ?? (await addInput(tx, groupId, personId, given))
  await tx
    .insert(deliveries)
    .values({
      groupId,
      id: given.id,
      createdBy: personId,
      inputId,
      deliveredOn: given.deliveredOn,
      quantityThousandths: given.quantityThousandths,
      priceMinor: given.priceMinor,
      deliveryPriceMinor: given.deliveryPriceMinor,
      supplier: given.supplier,
    })
    .onConflictDoNothing({ target: [deliveries.groupId, deliveries.id] })
}

async function inputNamed(tx: Tx, groupId: string, name: string): Promise<string | undefined> {
  const [found] = await tx
    .select({ id: inputs.id })
    .from(inputs)
    .where(and(eq(inputs.groupId, groupId), eq(inputs.name, name), isNull(inputs.removedAt)))
  return found?.id
}

async function addInput(tx: Tx, groupId: string, personId: string | null, given: NewDelivery): Promise<string> {
  await tx.insert(inputs).values({
    groupId,
    id: given.inputId,
    createdBy: personId,
    name: given.name,
    kind: given.kind,
    unit: given.unit,
    usefulLifeSeasons: given.usefulLifeSeasons,
    ownMade: given.ownMade ? 1 : 0,
  })
  return given.inputId
}
