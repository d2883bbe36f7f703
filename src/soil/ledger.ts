import { held } from '../lookups/held.ts'
import { recordOf } from '../lookups/keys.ts'
import { nth } from '../lookups/nth.ts'
import { type Composition, type Nutrient, nutrientNames, takenBy } from './nutrients.ts'
import { foundOfNitrogen, foundOfPhosphorus, foundOfPotassium } from './published-make-up.ts'

export interface Sum {
  readonly knownMg: number
  /** What has no figure, by name, each once. */
  readonly unknown: readonly string[]
}

/** One nutrient of one garden in one season. */
export interface LedgerEntry {
  /** All that inputs carried, and the part of it and of earlier seasons' that crops find in this one. */
  readonly brought: Sum
  readonly found: Sum
  readonly taken: Sum
  /** brought - taken; null while any part of it is unknown. */
  readonly leftMg: number | null
  /** The same per m2, of this season and all before it; null from the first season that is not known. */
  readonly gatheredMgPerM2: number | null
}

export interface LedgerSeason {
  readonly seasonId: string
  readonly bedAreaCm2: number
  readonly nutrients: Readonly<Record<Nutrient, LedgerEntry>>
}

export interface GardenLedger {
  readonly gardenId: string
  /** Those in which it had beds, in order. */
  readonly seasons: readonly LedgerSeason[]
}

export interface SpreadOn {
  readonly gardenId: string
  readonly seasonId: string
  readonly name: string
  readonly kind: string
  readonly rawManure: number
  readonly carriedMg: Readonly<Record<Nutrient, number | null>>
}

export interface LedgerRows {
  readonly gardens: readonly { readonly id: string }[]
  /** In their order. */
  readonly seasons: readonly { readonly id: string }[]
  readonly ground: readonly { readonly gardenId: string; readonly seasonId: string; readonly areaCm2: number }[]
  readonly spreadings: readonly SpreadOn[]
  readonly picked: readonly (Composition & {
    readonly gardenId: string
    readonly seasonId: string
    readonly name: string
    readonly grams: number
  })[]
}

/**
 * What came to each garden and what left it, all seasons, as elements. What is left is the most that can have stayed:
 * what leached, went into the air or left with weeds is not counted. A season counts as a year of carrying over. Where
 * one input or crop has no figure, what is left is unknown (null), whatever the others come to.
 */
export function ledgerOf(rows: LedgerRows): GardenLedger[] {
  const place = new Map(rows.seasons.map(({ id }, i) => [id, i]))
  return rows.gardens.map(({ id }) => {
    const ofGarden = {
      spreadings: rows.spreadings.filter((one) => one.gardenId === id),
      picked: rows.picked.filter((one) => one.gardenId === id && one.grams > 0),
    }
    const areas = rows.seasons.map((season) => ({
      seasonId: season.id,
      bedAreaCm2: rows.ground
        .filter((one) => one.gardenId === id && one.seasonId === season.id)
        .reduce((sum, one) => sum + one.areaCm2, 0),
    }))
    const lying = areas.filter((one) => one.bedAreaCm2 > 0)
    const courses = recordOf(nutrientNames, (nutrient) => courseOf(nutrient, lying, { ...ofGarden, place }))
    return {
      gardenId: id,
      seasons: lying.map((one, i) => ({
        ...one,
        nutrients: recordOf(nutrientNames, (nutrient) => nth(courses[nutrient], i)),
      })),
    }
  })
}

interface OfGarden extends Pick<LedgerRows, 'spreadings' | 'picked'> {
  readonly place: ReadonlyMap<string, number>
}

function courseOf(
  nutrient: Nutrient,
  seasons: readonly { seasonId: string; bedAreaCm2: number }[],
  { spreadings, picked, place }: OfGarden,
): LedgerEntry[] {
  let gathered: number | null = 0
  return seasons.map(({ seasonId, bedAreaCm2 }) => {
    const here = held(place, seasonId)
    const brought = sumOf(
      spreadings
        .filter((one) => one.seasonId === seasonId)
        .map((one) => ({ name: one.name, mg: one.carriedMg[nutrient] })),
    )
    const found = sumOf(
      spreadings
        .filter((one) => held(place, one.seasonId) <= here)
        .map((one) => ({ name: one.name, mg: foundMg(one, nutrient, here - held(place, one.seasonId)) })),
    )
    const taken = sumOf(
      picked
        .filter((one) => one.seasonId === seasonId)
        .map((one) => ({ name: one.name, mg: takenBy(one.grams, one)[nutrient] })),
    )
    const known = brought.unknown.length + taken.unknown.length === 0
    const leftMg = known ? brought.knownMg - taken.knownMg : null
    gathered = gathered === null || leftMg === null ? null : gathered + (10_000 * leftMg) / bedAreaCm2
    return { brought, found, taken, leftMg, gatheredMgPerM2: gathered }
  })
}

/** The part of a spreading that crops find so many seasons after its own. */
function foundMg(one: SpreadOn, nutrient: Nutrient, after: number): number | null {
  const shares =
    nutrient === 'nitrogen' ? foundOfNitrogen(one) : nutrient === 'phosphorus' ? foundOfPhosphorus : foundOfPotassium
  const mg = one.carriedMg[nutrient]
  if (mg === 0) return 0
  return mg === null || shares === null ? null : Math.round(foundAfter(mg, shares, after))
}

/**
 * Of what was spread so many seasons before, by the shares of its first season, its second and so on; nothing after.
 * Example: 50 lb of organic nitrogen by 35, 12 and 5 per cent give 17.5, 6 and 2.5 (Cornell University).
 */
export function foundAfter(spread: number, shares: readonly number[], after: number): number {
  const share = shares[after]
  return share === undefined ? 0 : spread * share
}

function sumOf(parts: readonly { readonly name: string; readonly mg: number | null }[]): Sum {
  const unknown = new Set(parts.flatMap(({ name, mg }) => (mg === null ? [name] : [])))
  return { knownMg: parts.reduce((sum, { mg }) => sum + (mg === null ? 0 : mg), 0), unknown: [...unknown] }
}

/** 1 g on a m2 is 10 kg on a hectare. */
export const kgPerHaOf = (mgPerM2: number) => mgPerM2 / 100
