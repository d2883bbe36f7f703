import { linked } from '../lookups/unsaid.ts'
import { splitExactly } from '../quantities/split-exactly.ts'
import type { Known } from './known.ts'
import { clock, kilograms } from './sheet-writing.page.ts'
import type { SheetRows, Weighed, WorkedBefore } from './week-sheet-rows.ts'

export interface Column {
  readonly key: string
  readonly gardenId: string
  readonly name: string
  /** The method, where the garden is parted between several. */
  readonly method: string
  readonly bedIds: ReadonlySet<string>
}

/** A garden is a column; one that is parted between methods is as many. */
export function weekColumns({ gardens, beds, methodOf }: SheetRows): Column[] {
  return gardens.flatMap((garden) => {
    const own = beds.filter((bed) => bed.gardenId === garden.id)
    const method = (bedId: string) => methodOf.get(bedId) ?? methodOf.get(garden.id)
    const methods = [...new Map(own.map((bed) => [method(bed.id)?.id, method(bed.id)])).values()]
    if (methods.length < 2) {
      const bedIds = new Set(own.map((bed) => bed.id))
      return [{ key: garden.id, gardenId: garden.id, name: garden.name, method: '', bedIds }]
    }
    return methods.map((lies) => ({
      key: lies ? `${garden.id}.${lies.id}` : garden.id,
      gardenId: garden.id,
      name: garden.name,
      method: lies ? lies.name : '',
      bedIds: new Set(own.filter((bed) => method(bed.id)?.id === lies?.id).map((bed) => bed.id)),
    }))
  })
}

interface Sheet extends SheetRows {
  readonly columns: readonly Column[]
}

/** The same columns for hours. What was written for a garden as a whole stands in the first of its columns. */
export function hourColumnsOf({ columns, beds, known, words }: Sheet) {
  return columns.map((at) => {
    const ofGarden = columns.filter((one) => one.gardenId === at.gardenId)
    const parted = ofGarden.length > 1
    const places = beds
      .filter((bed) => at.bedIds.has(bed.id))
      .map((bed) => ({ value: `bed:${bed.id}`, label: bed.name }))
    return {
      ...at,
      parted,
      places: parted ? [{ value: `garden:${at.gardenId}`, label: words.week.wholeGarden }, ...places] : places,
      holds: (one: WorkedBefore) => {
        const on = bedsOfWork(one, known)
        return on === undefined
          ? one.gardenId === at.gardenId && ofGarden[0] === at
          : on.some((bedId) => at.bedIds.has(bedId))
      },
    }
  })
}

/** The beds that hours were written for; undefined where that is a whole garden, or several. */
function bedsOfWork(one: WorkedBefore, known: Known): readonly string[] | undefined {
  const bedId = one.bedId ?? (one.plantingId === null ? undefined : known.plantings.get(one.plantingId)?.bedId)
  if (bedId !== undefined) return [bedId]
  return one.overBeds.length > 0 ? one.overBeds : undefined
}

export const gardenOfPlanting = (plantingId: string, known: Known) =>
  linked(known.gardenOfBed, known.plantings.get(plantingId)?.bedId)

/** Undefined for work over several gardens. */
export function gardenOfWork(one: WorkedBefore, known: Known): string | undefined {
  const [bedId] = bedsOfWork(one, known) ?? []
  return one.gardenId ?? (bedId === undefined ? undefined : known.gardenOfBed.get(bedId))
}

/**
 * What is written in a column, and in the week before. Of nothing written there is no sum, unless the week is closed.
 */
export function columnSums(sheet: Sheet) {
  const { locale, known, week } = sheet
  const inColumn = (list: readonly Weighed[], at: Column, hidden: ReadonlySet<string | undefined>) => {
    const own = list.filter(({ plantingId: id }) => {
      const bedId = id === null || hidden.has(id) ? undefined : known.plantings.get(id)?.bedId
      return bedId !== undefined && at.bedIds.has(bedId)
    })
    return own.length === 0 ? undefined : own.reduce((sum, one) => sum + one.marketableG + one.unmarketableG, 0)
  }
  const shown = (what: 'weights' | 'hours', at: Column, sums: Sums, write: (sum: number) => string) => {
    const now = sums.now === undefined && known.closed.has(`${what} ${at.gardenId} ${week}`) ? 0 : sums.now
    const before = sums.before === undefined && sheet.closedBefore.has(`${what} ${at.gardenId}`) ? 0 : sums.before
    const said = (sum: number | undefined) => (sum === undefined ? '–' : write(sum))
    return { base: now === undefined ? 0 : now, isKnown: now !== undefined, sum: said(now), before: said(before) }
  }
  const sealed = new Set([...known.sealed.keys()].map((key) => key.split(' ')[0]))
  const sealedBefore = new Set(sheet.sealedBefore.keys())
  return {
    weights: (at: Column) => {
      const now = inColumn(sheet.harvests, at, sealed)
      const before = inColumn(sheet.lastWeek.harvests, at, sealedBefore)
      return shown('weights', at, { now, before }, (sum) => kilograms(sum, locale))
    },
    hours: (at: Column) => {
      const now = minutesIn(sheet.labour, at, sheet)
      return shown('hours', at, { now, before: minutesIn(sheet.lastWeek.labour, at, sheet) }, clock)
    },
  }
}

interface Sums {
  readonly now: number | undefined
  readonly before: number | undefined
}

/** Minutes of a column: of what was written for its garden as a whole the part that it has by its area. */
function minutesIn(list: readonly WorkedBefore[], at: Column, { columns, known }: Sheet): number | undefined {
  const ofGarden = columns.filter((one) => one.gardenId === at.gardenId)
  const areas = ofGarden.map(({ bedIds }) =>
    known.ground.reduce((sum, bed) => sum + (bedIds.has(bed.id) ? bed.areaCm2 : 0), 0),
  )
  const parts = list.flatMap((one) => {
    const on = bedsOfWork(one, known)
    if (on !== undefined) return on.some((bedId) => at.bedIds.has(bedId)) ? [one.personMinutes] : []
    if (one.gardenId !== at.gardenId) return []
    return splitExactly(one.personMinutes, areas)?.[ofGarden.indexOf(at)] ?? [one.personMinutes]
  })
  return parts.length === 0 ? undefined : parts.reduce((sum, part) => sum + part, 0)
}
