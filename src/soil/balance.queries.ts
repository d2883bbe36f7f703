import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { bedsOf } from '../gardens/gardens.queries.ts'
import { applications, deliveries, inputs } from '../inputs/inputs.table.ts'
import { measuresOf } from '../inputs/measures.queries.ts'
import { linked, linkOf } from '../lookups/unsaid.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'

/** What was spread, with what is known of its make-up and the garden that it lies on. Of every season, oldest first. */
export async function spreadingsByGarden(tx: Tx, groupId: string) {
  const [beds, plantings] = [await bedsOf(tx, groupId), await plantingsOf(tx, groupId)]
  const gardenOfBed = new Map(beds.map((bed) => [bed.id, bed.gardenId]))
  const bedOfPlanting = new Map(plantings.map((planting) => [planting.id, planting.bedId]))
  const measures = await measuresOf(tx, groupId)
  const rows = await tx
    .select({ application: applications, input: inputs })
    .from(applications)
    .innerJoin(deliveries, and(eq(deliveries.groupId, groupId), eq(deliveries.id, applications.deliveryId)))
    .innerJoin(inputs, and(eq(inputs.groupId, groupId), eq(inputs.id, deliveries.inputId)))
    .where(and(eq(applications.groupId, groupId), isNull(applications.removedAt)))
    .orderBy(asc(applications.appliedOn), asc(applications.id))
  return rows
    .filter(({ input }) => carriesNutrients(input.kind))
    .map(({ application, input }) => ({
      ...input,
      measures,
      seasonId: application.seasonId,
      quantityThousandths: application.quantityThousandths,
      gardenId: linkOf(
        application.gardenId ?? linked(gardenOfBed, application.bedId ?? linked(bedOfPlanting, application.plantingId)),
      ),
    }))
}

/** Seed, plants, sheets, fuel, hire and water carry next to nothing into the ground. */
export const carriesNutrients = (kind: string) => !['seed', 'plants', 'cover', 'fuel', 'hire', 'water'].includes(kind)
