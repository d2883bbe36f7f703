import { plantingNames } from '../seasons/planting-names.ts'
import type { PlantingOfSheet, SheetRows } from './week-sheet-rows.ts'

/** A planting with its garden and bed. */
export function placed(one: PlantingOfSheet, rows: SheetRows): string {
  const bed = rows.beds.find((each) => each.id === one.bedId)
  const garden = rows.gardens.find((each) => each.id === bed?.gardenId)?.name ?? ''
  return `${namesIn(rows).get(one.id) ?? ''} · ${garden}, ${bed?.name ?? ''}`
}

const names = new WeakMap<readonly PlantingOfSheet[], ReadonlyMap<string, string>>()

function namesIn({ plantings, locale }: SheetRows): ReadonlyMap<string, string> {
  const known = names.get(plantings) ?? plantingNames(plantings, locale)
  names.set(plantings, known)
  return known
}
