import type { IsoDate } from '../../quantities/dates.ts'
import { type StoodOver, seasonsStood } from '../../seasons/seasons-stood.ts'

interface Season {
  readonly id: string
  readonly startsOn: IsoDate
  readonly endsOn: IsoDate
}

type Planting = StoodOver & { readonly id: string }

/** A planting is one row of the record for each season it counts in: the first has its own id. */
const rowIdOf = (planting: Planting, seasonId: string): string =>
  planting.seasonId === seasonId ? planting.id : `${planting.id}@${seasonId}`

/** The planting that a row of the record is of. */
export const plantingIdOf = (rowId: string): string => rowId.split('@')[0] ?? rowId

/**
 * Says to which row of the record something of a planting belongs: by the season it was written for, or by its day.
 * What fits none of its seasons stays with the first, so that nothing drops out.
 */
export function rowsOfPlantings(plantings: readonly Planting[], seasons: readonly Season[]) {
  const byId = new Map(plantings.map((one) => [one.id, one]))
  const inSeason = (plantingId: string, seasonId: string): string => {
    const planting = byId.get(plantingId)
    if (!planting || planting.standsOverSeasons === 0) return plantingId
    const stood = seasonsStood(planting, seasons).some((one) => one.seasonId === seasonId)
    return stood ? rowIdOf(planting, seasonId) : plantingId
  }
  return {
    inSeason,
    onDay: (plantingId: string, day: string): string => {
      const season = seasons.find((one) => one.startsOn <= day && day <= one.endsOn)
      return season ? inSeason(plantingId, season.id) : plantingId
    },
    of: (planting: Planting) =>
      seasonsStood(planting, seasons).map((stood) => ({ ...stood, id: rowIdOf(planting, stood.seasonId) })),
  }
}

export type RowsOfPlantings = ReturnType<typeof rowsOfPlantings>
