import { splitExactly } from '../quantities/split-exactly.ts'

/**
 * Where what was written of a planting goes when a part becomes one of its own: it stays, it goes along, or is divided
 * by area.
 */
export const partWays = ['stays', 'goes', 'divided'] as const
type Way = (typeof partWays)[number]

export interface PartTyped {
  readonly bedId: string
  readonly areaCm2: number
  readonly plants: number | null
  /** For all that no line says something else of. */
  readonly entries: Way | null
  readonly lines: ReadonlyMap<string, Way>
}

export interface PartKnown {
  readonly areaCm2: number
  readonly plants: number | null
  /** The garden of each bed of the group. */
  readonly gardenOfBed: ReadonlyMap<string, string>
  readonly sealed: boolean
  /** All that is written of it. */
  readonly entries: readonly string[]
}

type PartRefused = {
  readonly kind: 'refused'
  readonly field: 'bedId' | 'areaCm2' | 'plants' | 'entries'
  readonly code: 'notChosen' | 'sealed' | 'noLess' | 'howManyPlants' | 'morePlants' | 'notSaid'
}

export interface Parted {
  readonly kind: 'answer'
  readonly left: { readonly areaCm2: number; readonly plants: number | null }
  readonly part: { readonly areaCm2: number; readonly plants: number | null; readonly gardenId: string }
  readonly wayOf: ReadonlyMap<string, Way>
}

const refuse = (field: PartRefused['field'], code: PartRefused['code']): PartRefused => ({
  kind: 'refused',
  field,
  code,
})

/**
 * One planting that is two: the part has less ground than the whole, and all that is written is said to be of one, or
 * of both.
 */
export function parted(known: PartKnown, typed: PartTyped): Parted | PartRefused {
  const gardenId = known.gardenOfBed.get(typed.bedId)
  if (gardenId === undefined) return refuse('bedId', 'notChosen')
  if (known.sealed) return refuse('bedId', 'sealed')
  if (typed.areaCm2 >= known.areaCm2) return refuse('areaCm2', 'noLess')
  if (known.plants !== null && typed.plants === null) return refuse('plants', 'howManyPlants')
  if (known.plants !== null && typed.plants !== null && typed.plants >= known.plants)
    return refuse('plants', 'morePlants')
  const partWays = known.entries.map((id) => [id, typed.lines.get(id) ?? typed.entries] as const)
  const said = partWays.flatMap(([id, way]) => (way === null ? [] : [[id, way] as const]))
  if (said.length < partWays.length) return refuse('entries', 'notSaid')
  const plantsLeft = known.plants === null || typed.plants === null ? known.plants : known.plants - typed.plants
  return {
    kind: 'answer',
    left: { areaCm2: known.areaCm2 - typed.areaCm2, plants: plantsLeft },
    part: { areaCm2: typed.areaCm2, plants: typed.plants, gardenId },
    wayOf: new Map(said),
  }
}

/** Whole units divided by area: what stays and what goes add up to what was written. */
export function dividedByArea(
  total: number,
  left: number,
  part: number,
): { readonly stays: number; readonly goes: number } {
  const [stays = total, goes = 0] = splitExactly(total, [left, part]) ?? []
  return { stays, goes }
}

interface Share {
  readonly id: string
  readonly share: number | null
}

/**
 * Given shares of a crate, as whole numbers, when one of its plantings becomes two of these areas: all others keep
 * their part of the whole, and the two divide what the one had. Shares under another rule are null and stay so.
 */
export function sharesParted(
  shares: readonly Share[],
  ownId: string,
  [left, part]: readonly [number, number],
): { readonly shares: ReadonlyMap<string, number | null>; readonly part: number | null } {
  const own = shares.find((one) => one.id === ownId)
  if (own === undefined || own.share === null) {
    return { shares: new Map(shares.map((one) => [one.id, one.share])), part: null }
  }
  const divisor = common(left, part)
  const [a, b] = [left / divisor, part / divisor]
  const anew = shares.map(
    (one) => [one.id, one.share === null ? null : one.share * (one.id === ownId ? a : a + b)] as const,
  )
  return { shares: new Map(anew), part: own.share * b }
}

const common = (a: number, b: number): number => (b === 0 ? a : common(b, a % b))
