import type { Tx } from '../db/database.ts'
import { gramsPicked } from '../diary/picked.queries.ts'
import { lyingOver } from '../gardens/areas-held.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { applicationsOf, placesOf } from '../inputs/applications.queries.ts'
import { measuresOf } from '../inputs/measures.queries.ts'
import { placeOfRow } from '../inputs/place.ts'
import { rowsWith } from '../lookups/rows-with.ts'
import { cropsOf, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { carriesNutrients } from './balance.queries.ts'
import { type MadeUp, madeUpOf, milligramsIn } from './made-up-of.ts'

const notInFoodTable = { proteinMgPer100g: null, phosphorusMgPer100g: null, potassiumMgPer100g: null }

/**
 * All that was spread and all that was weighed, of every season and garden, with what each is made of. What was weighed
 * of a planting in a season is one row; with a garden it is only that garden's, each day of a planting by itself.
 */
export async function ledgerRows(tx: Tx, groupId: string, gardenId: string | null = null) {
  const [gardens, beds, seasons] = [
    await gardensOf(tx, groupId),
    await bedsOf(tx, groupId),
    await seasonsOf(tx, groupId),
  ]
  const [places, measures, plantings] = [
    await placesOf(tx, groupId),
    await measuresOf(tx, groupId),
    await plantingsOf(tx, groupId),
  ]
  const crops = new Map((await cropsOf(tx, groupId)).map((crop) => [crop.id, crop]))
  const gardenOfBed = new Map(beds.map((bed) => [bed.id, bed.gardenId]))
  const isAsked = (bedId: string) => gardenId === null || gardenOfBed.get(bedId) === gardenId
  const asked = new Set(plantings.flatMap(({ id, bedId }) => (isAsked(bedId) ? [id] : [])))
  const weighed = await gramsPicked(tx, groupId, plantings, { asked, by: gardenId === null ? 'season' : 'day' })
  const spreadings = (await applicationsOf(tx, groupId)).flatMap((one) => {
    const [place, made] = [placeOfRow(places, one), madeUpOf(one.input)]
    if (place === null || !carries(one.input.kind, made)) return []
    const { name, kind, rawManure, unit } = one.input
    const carriedMg = milligramsIn(made, { quantityThousandths: one.quantityThousandths, unit, measures })
    const { gardenId } = place
    return [{ gardenId, seasonId: one.seasonId, name, kind, rawManure, appliedOn: one.appliedOn, made, carriedMg }]
  })
  const picked = plantings.flatMap((planting) => {
    const composition = crops.get(planting.cropId) ?? notInFoodTable
    return rowsWith(weighed, 'plantingId', planting.id).flatMap(({ seasonId, grams, on }) => {
      const gardenId = gardenOfBed.get(planting.bedId)
      const { proteinMgPer100g, phosphorusMgPer100g, potassiumMgPer100g } = composition
      const of = { proteinMgPer100g, phosphorusMgPer100g, potassiumMgPer100g }
      return gardenId === undefined ? [] : [{ ...of, gardenId, seasonId, name: planting.crop, grams, on }]
    })
  })
  const grownIn = plantings.filter((one) => one.purpose === 'green manure')
  return {
    gardens,
    seasons,
    ground: seasons.flatMap((season) =>
      lyingOver(beds, season).map(({ gardenId, areaCm2 }) => ({ gardenId, areaCm2, seasonId: season.id })),
    ),
    spreadings,
    picked,
    greenManures: grownIn.map(({ bedId, crop, seasonId }) => ({
      gardenId: gardenOfBed.get(bedId) ?? null,
      crop,
      seasonId,
    })),
  }
}

/** A tool, twine or a pot ("other") carries nothing, unless an analysis or its name says that it is a material. */
function carries(kind: string, made: MadeUp): boolean {
  const isKnown = [made.nitrogenMgPerKg, made.phosphorusMgPerKg, made.potassiumMgPerKg].some((one) => one !== null)
  return isKnown || (kind !== 'other' && carriesNutrients(kind))
}
