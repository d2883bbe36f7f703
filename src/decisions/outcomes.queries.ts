import type { Kept } from '../accounts/kept.ts'
import { recordKeptAt } from '../comparison/record/kept-record.queries.ts'
import type { Tx } from '../db/database.ts'
import { bedsOf, gardensOf, methodsOf } from '../gardens/gardens.queries.ts'
import { applicationsOf, placesOf } from '../inputs/applications.queries.ts'
import { inputsOf } from '../inputs/deliveries.queries.ts'
import { measuresOf } from '../inputs/measures.queries.ts'
import { millilitresOf } from '../inputs/measures.ts'
import { placeOfRow } from '../inputs/place.ts'
import { cropPricesOf } from '../seasons/crop-prices.queries.ts'
import { priceOfSeason } from '../seasons/crop-prices.ts'
import { cropsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import type { ChoicesOfFigures } from './expectation.ts'
import type { RecordAsked } from './happened.ts'
import { worthOfMethods } from './value-and-effort.ts'

/** What a decision's figure can be about, by name. */
export async function choicesOfFigures(tx: Tx, groupId: string): Promise<ChoicesOfFigures> {
  const gardens = await gardensOf(tx, groupId)
  const nameOf = new Map(gardens.map((one) => [one.id, one.name]))
  const beds = (await bedsOf(tx, groupId)).map((bed) => ({
    value: `bed:${bed.id}`,
    label: `${nameOf.get(bed.gardenId)}, ${bed.name}`,
  }))
  return {
    aboutSeasonId: (await seasonsOf(tx, groupId)).map(named),
    methodId: (await methodsOf(tx, groupId)).map(named),
    ground: [...gardens.map(({ id, name }) => ({ value: `garden:${id}`, label: name })), ...beds],
    inputId: (await inputsOf(tx, groupId)).map(named),
  }
}

const named = ({ id, name }: { readonly id: string; readonly name: string }) => ({ value: id, label: name })

/** What the record is asked from, read in one moment. */
export async function recordAsked(
  tx: Tx,
  reader: { readonly member: { readonly group: { readonly id: string } }; readonly kept: Kept },
): Promise<RecordAsked> {
  const { id } = reader.member.group
  const { record } = await recordKeptAt(tx, reader)
  const [crops, prices] = [await cropsOf(tx, id), await cropPricesOf(tx, id)]
  const [places, measures] = [await placesOf(tx, id), await measuresOf(tx, id)]
  const spread = (await applicationsOf(tx, id)).map((one) => ({
    seasonId: one.seasonId,
    bedIds: placeOfRow(places, one)?.bedIds ?? [],
    inputId: one.input.id,
    volumeMl: millilitresOf(one.quantityThousandths, { ...one.input, measures }),
  }))
  return {
    record,
    spread,
    worthOf: (until, season) =>
      worthOfMethods(
        until,
        season.id,
        crops.map((crop) => ({ ...crop, priceMinorPerKg: priceOfSeason(prices.get(crop.id) ?? [], season) })),
      ),
  }
}
