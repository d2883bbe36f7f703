import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { type Stored, storeOnce } from '../db/store-once.ts'
import { always } from '../gardens/areas-held.ts'
import { type Author, bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { numberIn, textIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { namesOfPlantings } from '../seasons/planting-names.queries.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { seasons } from '../seasons/seasons.table.ts'
import { applications, deliveries, inputs } from './inputs.table.ts'
import { spreadBefore } from './load.ts'
import type { Place } from './place.ts'

/** What was spread, by day, with its input and its load. */
export async function applicationsOf(tx: Tx, groupId: string) {
  const rows = await tx
    .select({ application: applications, delivery: deliveries, input: inputs, season: seasons })
    .from(applications)
    .innerJoin(deliveries, and(eq(deliveries.groupId, groupId), eq(deliveries.id, applications.deliveryId)))
    .innerJoin(inputs, and(eq(inputs.groupId, groupId), eq(inputs.id, deliveries.inputId)))
    .innerJoin(seasons, and(eq(seasons.groupId, groupId), eq(seasons.id, applications.seasonId)))
    .where(and(eq(applications.groupId, groupId), isNull(applications.removedAt)))
    .orderBy(asc(applications.appliedOn), asc(applications.id))
  const before = spreadBefore(rows.map((row) => row.application))
  return rows.map(({ application, delivery, input, season }) => ({
    ...application,
    beforeThousandths: numberIn(before, application.id),
    input,
    load: {
      quantityThousandths: delivery.quantityThousandths,
      priceMinor: delivery.priceMinor,
      deliveryPriceMinor: delivery.deliveryPriceMinor,
    },
    seasonName: season.name,
  }))
}

/** Where an input can go: each garden whole, then each bed of it, then the plantings that stand in each. */
export async function placesOf(tx: Tx, groupId: string): Promise<Place[]> {
  const [gardens, beds, plantings] = [
    await gardensOf(tx, groupId),
    await bedsOf(tx, groupId),
    await plantingsOf(tx, groupId),
  ]
  const names = await namesOfPlantings(tx, groupId)
  const planted = new Map<string, typeof plantings>()
  for (const planting of plantings) planted.set(planting.bedId, [...(planted.get(planting.bedId) ?? []), planting])
  return gardens.flatMap((garden): Place[] => {
    const own = beds.filter((bed) => bed.gardenId === garden.id)
    return [
      {
        kind: 'garden',
        id: garden.id,
        gardenId: garden.id,
        gardenName: garden.name,
        bedName: null,
        plantingName: null,
        bedIds: own.map((bed) => bed.id),
        grounds: own.map((bed) => bed.areas),
      },
      ...own.map(
        (bed): Place => ({
          kind: 'bed',
          id: bed.id,
          gardenId: garden.id,
          gardenName: garden.name,
          bedName: bed.name,
          plantingName: null,
          bedIds: [bed.id],
          grounds: [bed.areas],
        }),
      ),
      ...own.flatMap((bed) =>
        (planted.get(bed.id) ?? []).map(
          (planting): Place => ({
            kind: 'planting',
            id: planting.id,
            gardenId: garden.id,
            gardenName: garden.name,
            bedName: bed.name,
            plantingName: textIn(names, planting.id),
            bedIds: [bed.id],
            grounds: [always(planting.areaCm2)],
          }),
        ),
      ),
    ]
  })
}

interface NewApplication {
  readonly id: string
  readonly seasonId: string
  readonly deliveryId: string
  readonly place: { readonly kind: Place['kind']; readonly id: string }
  readonly appliedOn: IsoDate
  readonly quantityThousandths: number
  readonly depthMm: number | null
  readonly phase: string | null
}

/** Locks the delivery while its rest is counted, so that two people cannot spread the same load twice. */
export async function deliveryForSpreading(tx: Tx, groupId: string, deliveryId: string, except: string) {
  const [delivery] = await tx
    .select()
    .from(deliveries)
    .where(and(eq(deliveries.groupId, groupId), eq(deliveries.id, deliveryId), isNull(deliveries.removedAt)))
    .for('update')
  if (!delivery) return undefined
  const [input] = await tx
    .select()
    .from(inputs)
    .where(and(eq(inputs.groupId, groupId), eq(inputs.id, delivery.inputId)))
  const rows = await tx
    .select({ id: applications.id, quantity: applications.quantityThousandths, day: applications.appliedOn })
    .from(applications)
    .where(
      and(eq(applications.groupId, groupId), eq(applications.deliveryId, deliveryId), isNull(applications.removedAt)),
    )
  const others = rows.filter((row) => row.id !== except)
  const spread = others.reduce((sum, row) => sum + row.quantity, 0)
  return {
    input,
    deliveredOn: delivery.deliveredOn,
    spreadThousandths: spread,
    leftThousandths: delivery.quantityThousandths - spread,
    firstSpreadOn: others.map((row) => row.day).sort()[0] ?? null,
  }
}

/** The three columns of which a spreading fills one. */
export const whereIn = ({ kind, id }: NewApplication['place']) => ({
  gardenId: kind === 'garden' ? id : null,
  bedId: kind === 'bed' ? id : null,
  plantingId: kind === 'planting' ? id : null,
})

export function saveApplication(tx: Tx, author: Author, given: NewApplication): Promise<Stored> {
  const { place, ...rest } = given
  return storeOnce(tx, applications, { ...author, ...rest, ...whereIn(place) })
}
