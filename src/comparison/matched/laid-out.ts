import { linkOf } from '../../lookups/unsaid.ts'
import { type Layout, readLayout } from '../../seasons/layout.ts'
import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { bedsIn } from '../record/ground.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodsOfBeds, methodTotals } from '../totals/method-totals.ts'

/** One garden under one method, or one bed: what is counted once, whatever grew in it and for how long. */
export interface LaidUnit {
  readonly unitId: string
  readonly gardenId: string
  readonly methodId: string
  /**
   * What holds it together with units of other methods: its garden where gardens are split, its site or block
   * otherwise.
   */
  readonly blockId: string | null
}

/** How some seasons lie under some methods, and what counts as one place of a method. */
export interface LaidOut {
  readonly layout: Layout
  /**
   * Whether some ground changed its method between these seasons: then ground and method can be told apart over them.
   */
  readonly turned: boolean
  readonly unit: 'garden' | 'bed'
  /** Seasons that have all of the methods. */
  readonly seasonIds: readonly string[]
  /** The record with each unit in the place of a method: what sums up a method then sums up a unit. */
  readonly cells: TrialRecord
}

const made = new WeakMap<TrialRecord, Map<string, Answer<LaidOut> | Refusal>>()

/**
 * Reads the layout of the seasons. Refuses where they are laid out unlike one another without ground changing its
 * method, and layouts in which nothing replicates the methods ("no error term").
 */
export function laidOut(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodIds: readonly string[],
): Answer<LaidOut> | Refusal {
  const ofRecord = made.get(record) ?? new Map<string, Answer<LaidOut> | Refusal>()
  made.set(record, ofRecord)
  const key = [...seasonIds, '', ...methodIds].join(' ')
  const found = ofRecord.get(key) ?? readLaidOut(record, seasonIds, methodIds)
  ofRecord.set(key, found)
  return found
}

/** Whether more than one place stands for each of these methods, so that they can be told from the ground. */
export function replicates(record: TrialRecord, seasonIds: readonly string[], methodIds: readonly string[]): boolean {
  const found = laidOut(record, seasonIds, methodIds)
  return found.kind === 'answer' && (found.turned || found.layout.alone.length === 0)
}

/**
 * Where no two methods are replicated and none has more than one garden, a method cannot be told from its ground. A
 * season of one method alone, such as a uniform year, compares nothing.
 */
export function oneGardenAMethod(record: TrialRecord, seasonIds: readonly string[]): boolean {
  const all = seasonIds.map((id) => methodTotals(record, id))
  const compared = all.filter((totals) => totals.size > 1)
  const seasons = compared.length > 0 ? compared : all
  const ids = [...new Set(seasons.flatMap((totals) => [...totals.keys()]))]
  return (
    seasons.every((totals) => [...totals.values()].every((own) => own.gardens <= 1)) &&
    !ids.some((a, i) => ids.slice(i + 1).some((b) => replicates(record, seasonIds, [a, b])))
  )
}

function readLaidOut(record: TrialRecord, seasonIds: readonly string[], methodIds: readonly string[]) {
  const layouts = seasonIds.flatMap((id) => {
    const layout = layoutIn(record, id, methodIds)
    return layout.units.size === methodIds.length ? [{ id, layout }] : []
  })
  const [first] = layouts
  if (!first) return refused('nothing in common', 'no season with all the methods')
  const laid = layouts.map((one) => one.id)
  const turned = changesGround(record, laid, methodIds)
  if (!turned && layouts.some((one) => one.layout.kind !== first.layout.kind)) {
    return refused('incomplete', 'seasons laid out unlike one another')
  }
  const unit = first.layout.unit ?? (turned ? 'garden' : null)
  if (unit === null) return refused('no error term', first.layout.kind)
  return answer({ layout: first.layout, turned, unit, seasonIds: laid, cells: cellRecord(record, methodIds, unit) })
}

function layoutIn(record: TrialRecord, seasonId: string, methodIds: readonly string[]): Layout {
  const gardens = record.gardens.map(({ id, siteId }) => ({ id, siteId: linkOf(siteId) }))
  const beds = bedsIn(record, seasonId).map(({ id, gardenId, blockId }) => ({ id, gardenId, blockId: blockId ?? null }))
  const methodOf = methodsOfBeds(record, seasonId)
  const how = new Map(
    record.assignments
      .filter((one) => one.seasonId === seasonId)
      .flatMap((one) => [[one.bedId ?? one.gardenId, one.how ?? 'choice'] as const]),
  )
  const laid = beds.flatMap((bed) => {
    const methodId = methodOf.get(bed.id)
    if (methodId === undefined || !methodIds.includes(methodId)) return []
    return [
      { gardenId: bed.gardenId, bedId: bed.id, methodId, how: how.get(bed.id) ?? how.get(bed.gardenId) ?? 'choice' },
    ]
  })
  return readLayout({ gardens, beds }, laid)
}

/** Some garden had one of these methods in one season and another in another, whole both times. */
function changesGround(record: TrialRecord, seasonIds: readonly string[], methodIds: readonly string[]): boolean {
  return record.gardens.some((garden) => {
    const methods = seasonIds.map((id) => {
      const methodOf = methodsOfBeds(record, id)
      const own = record.beds.filter((bed) => bed.gardenId === garden.id).flatMap((bed) => methodOf.get(bed.id) ?? [])
      return [...new Set(own.filter((one) => methodIds.includes(one)))]
    })
    return methods.every((own) => own.length <= 1) && new Set(methods.flat()).size > 1
  })
}

const cellId = (placeId: string, methodId: string) => `${placeId} ${methodId}`

function cellRecord(record: TrialRecord, methodIds: readonly string[], unit: 'garden' | 'bed'): TrialRecord {
  const cells = new Map<string, { id: string; name: string }>()
  const assignments = record.seasons.flatMap((season) => {
    const methodOf = methodsOfBeds(record, season.id)
    return record.beds.flatMap((bed) => {
      const methodId = methodOf.get(bed.id)
      if (methodId === undefined || !methodIds.includes(methodId)) return []
      const id = cellId(unit === 'garden' ? bed.gardenId : bed.id, methodId)
      cells.set(id, { id, name: id })
      return [{ seasonId: season.id, gardenId: bed.gardenId, bedId: bed.id, methodId: id }]
    })
  })
  return { ...record, methods: [...cells.values()], assignments }
}

/** The units that lie in one season. */
export function unitsIn({ layout, unit, cells }: LaidOut, seasonId: string): LaidUnit[] {
  const present = [...new Set(methodsOfBeds(cells, seasonId).values())].sort()
  return present.map((unitId) => {
    const [placeId = '', methodId = ''] = unitId.split(' ')
    const bed = cells.beds.find((one) => (unit === 'bed' ? one.id : one.gardenId) === placeId)
    const gardenId = unit === 'garden' ? placeId : linkOf(bed?.gardenId)
    const site = cells.gardens.find((one) => one.id === gardenId)?.siteId ?? null
    const blockId = blockOf(layout.kind, { gardenId, site, block: bed?.blockId ?? null })
    return { unitId, gardenId, methodId, blockId }
  })
}

function blockOf(
  kind: Layout['kind'],
  at: { gardenId: string; site: string | null; block: string | null },
): string | null {
  if (kind === 'split gardens' || kind === 'uneven') return at.gardenId
  if (kind === 'gardens within sites') return at.site
  return kind === 'blocks of beds' ? at.block : null
}
