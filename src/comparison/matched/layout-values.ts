import { type Layout, readLayout } from '../../seasons/layout.ts'
import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { meanOf } from '../../statistics/moments.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodsOfBeds } from '../totals/method-totals.ts'
import { type MatchedCrop, matchedOver } from './matched-crops.ts'

/** One garden under one method, or one bed: what is counted once, whatever grew in it and for how long. */
export interface UnitValue {
  readonly unitId: string
  readonly gardenId: string
  readonly methodId: string
  /** What holds it together with units of other methods: its garden where gardens are split, its site or block otherwise. */
  readonly blockId: string | null
  readonly seasonId: string
  /** kg per planted m2 on the common mix of the matched crops; 0 where all of them failed. */
  readonly rate: number
}

export interface LayoutValues {
  readonly layout: Layout
  /** Whether some ground changed its method between these seasons: then ground and method can be told apart over them. */
  readonly turned: boolean
  readonly values: readonly UnitValue[]
  readonly seasonIds: readonly string[]
  readonly crops: readonly string[]
}

/**
 * The values of every unit in every season, over the crops that stood matched under all the units of these methods and were
 * cleared, on one common mix: that of these seasons, or of the seasons among which each of them is looked at. Refuses where the seasons are laid out unlike one another without ground changing its method,
 * where nothing is matched over all units, and layouts without replicates.
 */
export function layoutValues(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodIds: readonly string[],
  mixOfIds: readonly string[] = seasonIds,
): Answer<LayoutValues> | Refusal {
  const laidIn = (ids: readonly string[]) =>
    ids.flatMap((id) => {
      const layout = layoutIn(record, id, methodIds)
      return layout.units.size === methodIds.length ? [{ id, layout }] : []
    })
  const layouts = laidIn(seasonIds)
  const [first] = layouts
  if (!first) return refused('nothing in common', 'no season with all the methods')
  const turned = changesGround(
    record,
    layouts.map((one) => one.id),
    methodIds,
  )
  if (!turned && layouts.some((one) => one.layout.kind !== first.layout.kind)) {
    return refused('incomplete', 'seasons laid out unlike one another')
  }
  const unit = first.layout.unit ?? (turned ? 'garden' : null)
  if (unit === null) return refused('no error term', first.layout.kind)
  const cells = cellRecord(record, methodIds, unit)
  const cropsIn = new Map([...layouts, ...laidIn(mixOfIds)].map(({ id }) => [id, cropsOf(cells, id)] as const))
  const perSeason = layouts.map(({ id }) => ({ id, crops: cropsIn.get(id) ?? [] }))
  const shared = sharedCrops([...cropsIn.values()])
  if (shared.length === 0) return refused('nothing in common', 'no crop matched over all units')
  const mix = mixOf([...cropsIn.values()], shared)
  const values = perSeason.flatMap(({ id, crops }) =>
    valuesIn(record, cells, { id, crops, mix, unit, kind: first.layout.kind }),
  )
  return answer({ layout: first.layout, turned, values, seasonIds: layouts.map((one) => one.id), crops: shared })
}

function layoutIn(record: TrialRecord, seasonId: string, methodIds: readonly string[]): Layout {
  const gardens = record.gardens.map(({ id, siteId }) => ({ id, siteId: siteId ?? '' }))
  const beds = record.beds.map(({ id, gardenId, blockId }) => ({ id, gardenId, blockId: blockId ?? null }))
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

/** The record with each unit in the place of a method. */
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

type Crops = readonly MatchedCrop[]

function cropsOf(cells: TrialRecord, seasonId: string): Crops {
  const present = new Set(methodsOfBeds(cells, seasonId).values())
  return matchedOver(cells, [seasonId], [...present]).sort((a, b) => (a.name < b.name ? -1 : 1))
}

const sharedCrops = (seasons: readonly Crops[]) =>
  (seasons[0] ?? [])
    .map((crop) => crop.name)
    .filter((name) => seasons.every((own) => own.some((crop) => crop.name === name)))

function mixOf(seasons: readonly Crops[], names: readonly string[]): Map<string, number> {
  const areas = names.map((name) =>
    seasons.reduce((sum, own) => sum + (own.find((crop) => crop.name === name)?.plantedAreaCm2 ?? 0), 0),
  )
  const all = areas.reduce((sum, area) => sum + area, 0)
  return new Map(names.map((name, i) => [name, (areas[i] ?? 0) / all]))
}

interface Season {
  readonly id: string
  readonly crops: Crops
  readonly mix: ReadonlyMap<string, number>
  readonly unit: 'garden' | 'bed'
  readonly kind: Layout['kind']
}

function valuesIn(record: TrialRecord, cells: TrialRecord, { id, crops, mix, unit, kind }: Season): UnitValue[] {
  const present = [...new Set(methodsOfBeds(cells, id).values())].sort()
  return present.map((unitId) => {
    const [placeId = '', methodId = ''] = unitId.split(' ')
    const bed = record.beds.find((one) => (unit === 'bed' ? one.id : one.gardenId) === placeId)
    const gardenId = unit === 'garden' ? placeId : (bed?.gardenId ?? '')
    const site = record.gardens.find((one) => one.id === gardenId)?.siteId ?? null
    const rate = crops
      .filter((crop) => mix.has(crop.name))
      .reduce((sum, crop) => {
        const own = crop.byMethod.get(unitId)
        return sum + (mix.get(crop.name) ?? 0) * ((10 * (own?.marketableG ?? 0)) / (own?.plantedAreaCm2 ?? 1))
      }, 0)
    return {
      unitId,
      gardenId,
      methodId,
      blockId: blockOf(kind, { gardenId, site, block: bed?.blockId ?? null }),
      seasonId: id,
      rate,
    }
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

/** One value a unit: the mean over its seasons of the logarithm of its rate; null where nothing came off it in some season. */
export function onePerUnit(values: readonly UnitValue[]) {
  return [...new Set(values.map((one) => one.unitId))].sort().map((unitId) => {
    const own = values.filter((one) => one.unitId === unitId)
    const { methodId, blockId, gardenId } = own[0] as UnitValue
    const logs = own.map((one) => Math.log(one.rate))
    return { unitId, methodId, blockId, gardenId, value: logs.every(Number.isFinite) ? meanOf(logs) : null }
  })
}
