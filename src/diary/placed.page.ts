import { nameIfAny, textIn } from '../lookups/unsaid.ts'
import { plantingNames } from '../seasons/planting-names.ts'
import type { PlantingOfSheet, SheetRows } from './week-sheet-rows.ts'

/** A planting with its garden and bed. */
export function placed(one: PlantingOfSheet, rows: SheetRows): string {
  const bed = rows.beds.find((each) => each.id === one.bedId)
  const garden = nameIfAny(rows.gardens.find((each) => each.id === bed?.gardenId))
  return `${textIn(namesIn(rows), one.id)} · ${garden}, ${nameIfAny(bed)}`
}

const names = new WeakMap<readonly PlantingOfSheet[], ReadonlyMap<string, string>>()

function namesIn({ plantings, locale }: SheetRows): ReadonlyMap<string, string> {
  const known = names.get(plantings) ?? plantingNames(plantings, locale)
  names.set(plantings, known)
  return known
}
