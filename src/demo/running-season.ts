import type { IsoDate } from '../quantities/dates.ts'
import { type IsoWeek, mondayOf, weekAfter, weekOf } from '../quantities/iso-week.ts'
import type { Row, Rows } from './rows.ts'

interface Cut {
  readonly day: IsoDate
  /** In the order of the walk. */
  readonly gardens: readonly string[]
}

/** Gardens, by their place in the walk, of which something was left open or out in the weeks before the day. */
const leftOpen = { hours: 3, weights: 1, unweighed: 1 } as const

/**
 * The rows as they stand on a day: those before `over` belong to seasons that are over and stay; of the others what is
 * planned stays, what lies after the day is not there yet, the running week is open, and a little of the week before
 * was left open.
 */
export function cutAt(rows: Rows, over: Readonly<Record<string, number>>, cut: Cut): Rows {
  const { day } = cut
  const week = weekOf(day)
  const all: Record<keyof Rows, readonly Row[]> = rows
  // A table that did not exist before the running season lies wholly in it.
  const running = (name: keyof Rows) => all[name].slice(over[name] ?? 0)
  const kept = (name: keyof Rows, keep: (row: Row) => Row[]) => [
    // And has nothing before it.
    ...all[name].slice(0, over[name] ?? 0),
    ...running(name).flatMap(keep),
  ]
  const until = (column: string) => (row: Row) => (String(row[column]) <= day ? [row] : [])
  const written = (row: Row) => ({ ...row, ...(String(row.isoWeek) >= weekBefore(week) ? { writtenOn: day } : {}) })
  const unweighed = missingTwin(rows, running('harvests'), cut)
  return {
    ...rows,
    // The same of seasons.
    seasons: rows.seasons.map((row, at) => (at < (over.seasons ?? 0) ? row : opened(row))),
    plantings: kept('plantings', (row) => [String(row.clearedOn) <= day ? row : standing(row)]),
    harvests: kept('harvests', (row) => (String(row.harvestedOn) <= day && row.id !== unweighed ? [written(row)] : [])),
    losses: kept('losses', until('lostOn')),
    labourEntries: kept('labourEntries', (row) => {
      const late = String(row.isoWeek) === week && row.gardenId === cut.gardens[leftOpen.hours]
      return String(row.isoWeek) <= week && mondayOf(week) <= day && !late ? [written(row)] : []
    }),
    weekClosings: kept('weekClosings', (row) => (isClosed(row, week, cut) ? [row] : [])),
    applications: kept('applications', until('appliedOn')),
    deliveries: kept('deliveries', (row) => (String(row.orderedOn) <= day ? [arrived(row, day)] : [])),
    weatherDays: kept('weatherDays', until('day')),
    questions: kept('questions', ({ lockedAt, ...row }) => [
      (String(lockedAt).slice(0, 10) <= day ? { ...row, lockedAt } : row) as Row,
    ]),
    decisions: rows.decisions.filter((row) => String(row.decidedOn) <= day),
  }
}

const opened = ({ closedAt: _closed, ...row }: Rows['seasons'][number]): Rows['seasons'][number] => row

const weekBefore = (week: IsoWeek) => weekAfter(week, -1)

/** It stands, or is planned, until the day that it is meant to be cleared. */
const standing = ({ clearedOn, ...row }: Row): Row => ({ ...row, standsUntil: clearedOn ?? null }) as Row

const arrived = (row: Row, day: string): Row =>
  row.deliveredOn !== null && String(row.deliveredOn) > day ? { ...row, deliveredOn: null } : row

/**
 * Weeks before the running one are closed, but for the hours of one garden and the weights of another in the last of
 * them.
 */
function isClosed(row: Row, week: IsoWeek, { gardens }: Cut): boolean {
  if (String(row.isoWeek) >= week) return false
  if (String(row.isoWeek) !== weekBefore(week)) return true
  const garden = gardens[row.what === 'hours' ? leftOpen.hours : leftOpen.weights]
  return row.gardenId !== garden
}

/** The latest weighing of one garden in the running week or the one before: its twin is missing, and asked for. */
function missingTwin(rows: Rows, weighings: readonly Row[], { day, gardens }: Cut): string | undefined {
  const beds = new Set(rows.beds.flatMap((bed) => (bed.gardenId === gardens[leftOpen.unweighed] ? [bed.id] : [])))
  const inGarden = new Set(rows.plantings.flatMap((one) => (beds.has(String(one.bedId)) ? [one.id] : [])))
  const from = mondayOf(weekBefore(weekOf(day)))
  return weighings.findLast(
    (one) => inGarden.has(String(one.plantingId)) && String(one.harvestedOn) >= from && String(one.harvestedOn) <= day,
  )?.id
}
