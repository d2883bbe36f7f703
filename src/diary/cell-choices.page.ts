import { nameIfAny } from '../lookups/unsaid.ts'
import { sealedKey, weekIsClosed } from './known.ts'
import { isState, type State, states } from './state.ts'
import { gardenOfPlanting } from './week-columns.page.ts'
import type { PlantingOfSheet, SheetRows } from './week-sheet-rows.ts'

/** How many others a crate is offered with: those of its own garden first. */
const mostInCrate = 12

/** The other plantings of its crop that a crate can come from too, as they are ticked in the cell of one. */
export function inCrateWith(one: PlantingOfSheet, onSheet: readonly PlantingOfSheet[], rows: SheetRows) {
  const { beds, gardens, known, week } = rows
  const own = gardenOfPlanting(one.id, known)
  const ofCrop = byCrop(onSheet).get(one.crop) ?? []
  const places = ofCrop.flatMap((two) => {
    const gardenId = gardenOfPlanting(two.id, known)
    if (two.id === one.id || gardenId === undefined) return []
    if (known.sealed.has(sealedKey(two.id, week)) || weekIsClosed(known, 'weights', [gardenId], week)) return []
    const bed = nameIfAny(beds.find((each) => each.id === two.bedId))
    const cultivar = two.cultivar === one.cultivar ? [] : [two.cultivar]
    const garden = gardenId === own ? [] : gardens.flatMap((each) => (each.id === gardenId ? [each.name] : []))
    return [{ value: two.id, label: [...garden, bed, ...cultivar].join(', '), isNear: gardenId === own }]
  })
  const near = places.filter((place) => place.isNear)
  return [...near, ...places.filter((place) => !place.isNear)].slice(0, mostInCrate)
}

const indexes = new WeakMap<readonly PlantingOfSheet[], ReadonlyMap<string, readonly PlantingOfSheet[]>>()

/** Every cell asks for the others of its crop: the index of a sheet is made once. */
function byCrop(onSheet: readonly PlantingOfSheet[]): ReadonlyMap<string, readonly PlantingOfSheet[]> {
  const made = indexes.get(onSheet)
  if (made) return made
  const index = new Map<string, PlantingOfSheet[]>()
  for (const one of onSheet) {
    const others = index.get(one.crop)
    if (others) others.push(one)
    else index.set(one.crop, [one])
  }
  indexes.set(onSheet, index)
  return index
}

/**
 * What can have been weighed: first the state that counts for a planting, which a blank choice means. Seed has a lot of
 * its own, and is written line by line.
 */
export function statesOf(one: PlantingOfSheet, { known, words }: SheetRows) {
  const weighedAs = known.plantings.get(one.id)?.weighedAs ?? null
  const counting: State = weighedAs !== null && isState(weighedAs) ? weighedAs : 'fresh'
  const others = states.filter((state) => state !== 'seed' && state !== counting)
  const named = words.diary.states
  return [
    { value: '', label: words.week.asCounted(named[counting]) },
    ...others.map((state) => ({ value: state, label: named[state] })),
  ]
}
