import type { IsoDate } from '../quantities/dates.ts'
import { chanceFrom } from '../statistics/chance-from.ts'
import { aroundTheGardens, aroundTheRunning } from './around.ts'
import type { Bookkeeping } from './bookkeeping.ts'
import { Making } from './making.ts'
import { movedYears, yearsToMove } from './moved-years.ts'
import type { Rows } from './rows.ts'
import { cutAt } from './running-season.ts'
import * as written from './truth.ts'

export interface DemoGroup {
  readonly rows: Rows
  readonly books: Bookkeeping
  readonly mendedHarvest: string
  /** How many rows of each table belong to the seasons that are over. */
  readonly overCounts: Readonly<Record<string, number>>
}

/** A day on which the third season is over and the next is not planned yet: tests ask about what is finished. */
export const usualDay = '2026-06-08'

/**
 * The whole demo from its seed and the day that it is made for: rows for every table in whole units, and the
 * generator's own sums of them. Three seasons are over on that day; of the next one stands what is planned, and what
 * was written until then.
 */
export function generateDemo(seed: number = written.seed, day: IsoDate = usualDay): DemoGroup {
  const truth = movedYears({ ...written }, yearsToMove(day))
  const making = new Making(chanceFrom(seed), truth)
  making.ground()
  for (const season of truth.seasons.keys()) making.season(season)
  aroundTheGardens(making)
  const mendedHarvest = making.mendedHarvest()
  const over = rowCounts(making.rows)
  // A stream of its own: what is over stays as it is whatever is drawn for the season that runs.
  making.chance = chanceFrom(seed + 1)
  if (day >= truth.running.plannedOn) {
    making.season(truth.seasons.length)
    aroundTheRunning(making)
  }
  const rows = cutAt(making.rows, over, { day, gardens: making.gardenIds() })
  return { rows, books: making.books, mendedHarvest, overCounts: { ...over, decisions: 0 } }
}

const rowCounts = (rows: Rows): Readonly<Record<string, number>> =>
  Object.fromEntries(Object.entries(rows).map(([name, list]) => [name, list.length]))
