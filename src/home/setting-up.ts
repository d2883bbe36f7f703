import type { IsoDate } from '../quantities/dates.ts'

/** What the two tables of setting up say, and how crops that stand in all gardens share the beds of each. */

export interface GardensGiven {
  readonly id: string
  /** Whether all stand on one soil and exposure. */
  readonly ground: 'one' | 'apart'
  readonly rows: Readonly<Record<string, GardenGiven>>
}

interface GardenGiven {
  readonly name: string
  readonly method: string
  readonly since?: number | null | undefined
  readonly grossAreaCm2: number
  readonly beds: { readonly count: number; readonly areaCm2: number | null }
}

export interface SeasonGiven {
  readonly id: string
  readonly startsOn: IsoDate
  readonly endsOn: IsoDate
  readonly lies: Readonly<Record<string, { readonly methodId: string; readonly since?: number | null | undefined }>>
  readonly rows: Readonly<Record<string, CropGiven>>
}

interface CropGiven {
  readonly crop: string
  readonly cultivar: string
  readonly sownOn: IsoDate | null
  readonly plantedOn?: IsoDate | null | undefined
  readonly areaCm2?: number | null | undefined
}

interface BedOfGarden {
  readonly id: string
  readonly areaCm2: number
}

interface CropPlace {
  readonly bedId: string
  readonly areaCm2: number
}

/**
 * One place for each crop in a garden: a bed of its own in the order of the list, and from the start again where there
 * are more crops than beds. A bed is divided evenly among those that it holds; an area that was said is taken as it was
 * said.
 */
export function placesInGarden(beds: readonly BedOfGarden[], said: readonly (number | null)[]): CropPlace[] {
  return said.flatMap((areaCm2, crop) => {
    const bed = beds[crop % beds.length]
    if (!bed) return []
    const sharing = said.filter((_, other) => other % beds.length === crop % beds.length).length
    return [{ bedId: bed.id, areaCm2: areaCm2 ?? Math.floor(bed.areaCm2 / sharing) }]
  })
}

/** Of each bed where only their number was said: the garden divided evenly, its paths included. */
export const bedArea = (
  grossAreaCm2: number,
  beds: { readonly count: number; readonly areaCm2: number | null },
): number => beds.areaCm2 ?? Math.floor(grossAreaCm2 / beds.count)

/** A crop of the list as it was typed: in any letters, and in the plural of one more s. */
export function cropNamed<T extends { readonly name: string }>(crops: readonly T[], typed: string): T | undefined {
  const wanted = typed.trim().toLowerCase()
  const named = (name: string) => crops.find((one) => one.name.toLowerCase() === name)
  return named(wanted) ?? named(wanted.replace(/(?:es|s)$/, '')) ?? named(wanted.replace(/s$/, ''))
}

/** "2026", or "2026/27" where it crosses a new year. */
export function nameOfSeason(startsOn: IsoDate, endsOn: IsoDate): string {
  const [from, to] = [startsOn.slice(0, 4), endsOn.slice(0, 4)]
  return from === to ? from : `${from}/${to.slice(2)}`
}
