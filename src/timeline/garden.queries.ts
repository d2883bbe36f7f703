import { and, asc, eq, isNotNull, isNull, or } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { labourEntries, losses } from '../diary/diary.table.ts'
import { pickedByWeek } from '../diary/picked.queries.ts'
import { bedsOf, blocksOf, gardensOf, methodsOf, sitesOf } from '../gardens/gardens.queries.ts'
import { bedClosures } from '../gardens/gardens.table.ts'
import { applications, deliveries, inputs } from '../inputs/inputs.table.ts'
import { amongThem, linked, linkOf, nameIfAny } from '../lookups/unsaid.ts'
import { countsOf, notesOf, patchesOf } from '../notes/notes.queries.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { plantingNames } from '../seasons/planting-names.ts'
import { assignmentsOf, type PlantingRow, seasonsOf } from '../seasons/seasons.queries.ts'
import { soilTestsOf } from '../soil/soil.queries.ts'

/** All that happened on one garden's ground, from every chapter; undefined where it is not of this group. */
export async function gardenYear(
  tx: Tx,
  { id: groupId, locale }: { readonly id: string; readonly locale: string },
  gardenId: string,
  everyPlanting: readonly PlantingRow[],
) {
  const garden = (await gardensOf(tx, groupId)).find((one) => one.id === gardenId)
  if (!garden) return undefined
  const beds = (await bedsOf(tx, groupId)).filter((bed) => bed.gardenId === gardenId)
  const here = new Set(beds.map((bed) => bed.id))
  const plantings = everyPlanting.filter((planting) => here.has(planting.bedId))
  const sown = new Set(plantings.map((planting) => planting.id))
  const ofGarden = (one: { gardenId: string | null; bedId: string | null }) =>
    one.gardenId === gardenId || amongThem(here, one.bedId)
  const bedOfPlanting = new Map(plantings.map((planting) => [planting.id, planting.bedId]))
  return {
    garden,
    beds,
    plantings,
    names: plantingNames(everyPlanting, locale),
    site: nameIfAny((await sitesOf(tx, groupId)).find((site) => site.id === garden.siteId)),
    blocks: await blocksOf(tx, groupId),
    methods: await methodsOf(tx, groupId),
    seasons: await seasonsOf(tx, groupId),
    assignments: (await assignmentsOf(tx, groupId)).filter((one) => one.gardenId === gardenId),
    losses: (await lossesOf(tx, groupId)).filter((loss) => sown.has(loss.plantingId)),
    closures: (await closuresOf(tx, groupId)).filter((closure) => here.has(closure.bedId)),
    bedLabour: (await labourByBed(tx, groupId)).flatMap(({ bedId, plantingId, ...entry }) => {
      const bed = linkOf(bedId ?? linked(bedOfPlanting, plantingId))
      return here.has(bed) ? [{ ...entry, bedId: bed }] : []
    }),
    picked: await pickedByWeek(tx, groupId, everyPlanting, sown),
    notes: (await notesOf(tx, groupId)).filter(ofGarden).toReversed(),
    counts: (await countsOf(tx, groupId)).filter(ofGarden),
    patches: (await patchesOf(tx, groupId)).filter(ofGarden),
    /** Of this garden, its beds, or of the site as a whole. */
    soilTests: (await soilTestsOf(tx, groupId)).filter(
      (test) => ofGarden(test) || (test.siteId === garden.siteId && test.gardenId === null && test.bedId === null),
    ),
    spreadings: (await spreadingsOf(tx, groupId)).filter((one) => ofGarden(one) || amongThem(sown, one.plantingId)),
  }
}

export type GardenYear = NonNullable<Awaited<ReturnType<typeof gardenYear>>>

const lossesOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(losses)
    .where(and(eq(losses.groupId, groupId), isNull(losses.removedAt)))
    .orderBy(asc(losses.lostOn), asc(losses.id))

/** Work that was written for a bed or for what stands in it; a garden's own hours are of no bed. */
const labourByBed = (tx: Tx, groupId: string) =>
  tx
    .select({
      bedId: labourEntries.bedId,
      plantingId: labourEntries.plantingId,
      isoWeek: labourEntries.isoWeek,
      workedOn: labourEntries.workedOn,
      personMinutes: labourEntries.personMinutes,
    })
    .from(labourEntries)
    .where(
      and(
        eq(labourEntries.groupId, groupId),
        isNull(labourEntries.removedAt),
        or(isNotNull(labourEntries.bedId), isNotNull(labourEntries.plantingId)),
      ),
    )
    .orderBy(asc(labourEntries.id))

const closuresOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(bedClosures)
    .where(and(eq(bedClosures.groupId, groupId), isNull(bedClosures.removedAt)))
    .orderBy(asc(bedClosures.fromDay), asc(bedClosures.id))

const spreadingsOf = (tx: Tx, groupId: string) =>
  tx
    .select({
      id: applications.id,
      gardenId: applications.gardenId,
      bedId: applications.bedId,
      plantingId: applications.plantingId,
      day: applications.appliedOn,
      quantityThousandths: applications.quantityThousandths,
      input: inputs.name,
      unit: inputs.unit,
    })
    .from(applications)
    .innerJoin(deliveries, and(eq(deliveries.groupId, groupId), eq(deliveries.id, applications.deliveryId)))
    .innerJoin(inputs, and(eq(inputs.groupId, groupId), eq(inputs.id, deliveries.inputId)))
    .where(and(eq(applications.groupId, groupId), isNull(applications.removedAt)))
    .orderBy(asc(applications.appliedOn), asc(applications.id))

interface NewClosure {
  readonly id: string
  readonly bedId: string
  readonly fromDay: IsoDate
  readonly toDay: IsoDate | null
  readonly why: string
  readonly material: string | null
}

export async function saveClosure(
  tx: Tx,
  author: { groupId: string; createdBy: string | null },
  given: NewClosure,
): Promise<void> {
  await tx
    .insert(bedClosures)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [bedClosures.groupId, bedClosures.id] })
}
