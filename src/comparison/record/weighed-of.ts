import { weekWritten } from '../../quantities/iso-week.ts'
import type { PlantingRecord, WeighedRecord } from './trial-record.ts'

/**
 * What was weighed of a planting, row by row: each weighing, or each week of them where the database summed those. The
 * weeks are read out of their text when they are first asked for, since a page of ten years looks at few of thirty
 * thousand.
 */
export function weighedOf(planting: PlantingRecord): readonly WeighedRecord[] {
  const { weighed = none, weeks } = planting
  if (weeks === undefined) return weighed
  const known = read.get(planting)
  if (known) return known
  const all = [...weighed, ...weeks.split(',').map(weekRead)]
  read.set(planting, all)
  return all
}

const none: readonly never[] = []
const read = new WeakMap<PlantingRecord, readonly WeighedRecord[]>()

function weekRead(text: string): WeighedRecord {
  const [week = '', good, bad] = text.split(' ')
  return { isoWeek: weekWritten(week), marketableG: Number(good), unmarketableG: Number(bad) }
}
