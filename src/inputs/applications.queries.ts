import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { beds, gardens } from '../gardens/gardens.table.ts'
import { seasons } from '../seasons/seasons.table.ts'
import { applications, deliveries, inputs } from './inputs.table.ts'

export interface ApplicationRow {
  readonly id: string
  readonly inputName: string
  readonly unit: string
  readonly appliedOn: string
  readonly quantityThousandths: number
  readonly gardenName: string
  readonly bedName: string | null
  readonly seasonName: string
  readonly phase: string
}

/** What was spread, by day. */
export async function applicationsOf(tx: Tx, groupId: string): Promise<ApplicationRow[]> {
  const rows = await tx
    .select({ application: applications, input: inputs, garden: gardens, bed: beds, season: seasons })
    .from(applications)
    .innerJoin(deliveries, and(eq(deliveries.groupId, groupId), eq(deliveries.id, applications.deliveryId)))
    .innerJoin(inputs, and(eq(inputs.groupId, groupId), eq(inputs.id, deliveries.inputId)))
    .innerJoin(seasons, and(eq(seasons.groupId, groupId), eq(seasons.id, applications.seasonId)))
    .leftJoin(beds, and(eq(beds.groupId, groupId), eq(beds.id, applications.bedId)))
    .leftJoin(gardens, and(eq(gardens.groupId, groupId), eq(gardens.id, applications.gardenId)))
    .where(and(eq(applications.groupId, groupId), isNull(applications.removedAt)))
    .orderBy(asc(applications.appliedOn), asc(applications.id))
  const names = await gardenNames(tx, groupId)
  return rows.map(({ application, input, garden, bed, season }) => ({
    id: application.id,
    inputName: input.name,
    unit: input.unit,
    appliedOn: application.appliedOn,
    quantityThousandths: application.quantityThousandths,
    gardenName: garden?.name ?? names.get(bed?.gardenId ?? '') ?? '',
    bedName: bed?.name ?? null,
    seasonName: season.name,
    phase: application.phase,
  }))
}

async function gardenNames(tx: Tx, groupId: string): Promise<Map<string, string>> {
  const rows = await tx.select({ id: gardens.id, name: gardens.name }).from(gardens).where(eq(gardens.groupId, groupId))
  return new Map(rows.map((row) => [row.id, row.name]))
}

export interface Place {
  readonly kind: 'garden' | 'bed'
  readonly id: string
  readonly gardenName: string
  readonly bedName: string | null
}

/** Where an input can go: each garden whole, then each bed of it. */
export async function placesOf(tx: Tx, groupId: string): Promise<Place[]> {
  const gardenRows = await tx
    .select()
    .from(gardens)
    .where(and(eq(gardens.groupId, groupId), isNull(gardens.removedAt)))
    .orderBy(asc(gardens.position), asc(gardens.id))
  const bedRows = await tx
    .select()
    .from(beds)
    .where(and(eq(beds.groupId, groupId), isNull(beds.removedAt)))
    .orderBy(asc(beds.position), asc(beds.id))
  return gardenRows.flatMap((garden): Place[] => [
    { kind: 'garden', id: garden.id, gardenName: garden.name, bedName: null },
    ...bedRows
      .filter((bed) => bed.gardenId === garden.id)
      .map((bed): Place => ({ kind: 'bed', id: bed.id, gardenName: garden.name, bedName: bed.name })),
  ])
}

export interface NewApplication {
  readonly id: string
  readonly seasonId: string
  readonly deliveryId: string
  readonly place: { readonly kind: 'garden' | 'bed'; readonly id: string }
  readonly appliedOn: string
  readonly quantityThousandths: number
  readonly phase: string
}

/** Locks the delivery while its rest is counted, so that two people cannot spread the same load twice. */
export async function deliveryForSpreading(tx: Tx, groupId: string, deliveryId: string, except: string) {
  const [delivery] = await tx
    .select()
    .from(deliveries)
    .where(and(eq(deliveries.groupId, groupId), eq(deliveries.id, deliveryId), isNull(deliveries.removedAt)))
    .for('update')
  if (!delivery) return undefined
  const rows = await tx
    .select({ id: applications.id, quantity: applications.quantityThousandths })
    .from(applications)
    .where(
      and(eq(applications.groupId, groupId), eq(applications.deliveryId, deliveryId), isNull(applications.removedAt)),
    )
  const spread = rows.filter((row) => row.id !== except).reduce((sum, row) => sum + row.quantity, 0)
  return { deliveredOn: delivery.deliveredOn, leftThousandths: delivery.quantityThousandths - spread }
}

export async function saveApplication(
  tx: Tx,
  groupId: string,
  personId: string | null,
  given: NewApplication,
): Promise<void> {
  await tx
    .insert(applications)
    .values({
      groupId,
      id: given.id,
      createdBy: personId,
      seasonId: given.seasonId,
      deliveryId: given.deliveryId,
      gardenId: given.place.kind === 'garden' ? given.place.id : null,
      bedId: given.place.kind === 'bed' ? given.place.id : null,
      appliedOn: given.appliedOn,
      quantityThousandths: given.quantityThousandths,
      phase: given.phase,
    })
    .onConflictDoNothing({ target: [applications.groupId, applications.id] })
}
