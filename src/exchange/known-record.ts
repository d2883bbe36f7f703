import { closedKey, type Known, type What } from '../diary/known.ts'
import type { Lot } from '../diary/state.ts'
import { standingRefused } from '../diary/week-rules.ts'
import { type AreaFrom, lyingOn } from '../gardens/areas-held.ts'
import { textIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { type Called, plantingNames } from '../seasons/planting-names.ts'
import { plainName } from './row-cells.ts'

interface Named {
  readonly id: string
  readonly name: string
}

export interface PlantingOfRecord extends Called {
  readonly cropId: string
  readonly areaCm2: number
  readonly interplanted: number
  readonly plants: number | null
  readonly matchedSetId: string | null
  readonly weighedAs: string | null
  readonly standsOverSeasons: number
  readonly countsWhenPicked: number
  readonly standsUntil?: IsoDate | null
}

/** What stands in the record that the lines of a file speak of by name. */
interface KnownRows {
  readonly today: IsoDate
  readonly locale: string
  readonly currency: string
  readonly weightUnit: 'kg' | 'lb'
  readonly areaUnit: 'm2' | 'ft2'
  readonly sites: readonly Named[]
  readonly gardens: readonly (Named & { readonly siteId: string })[]
  readonly beds: readonly (Named & { readonly gardenId: string; readonly areas: readonly AreaFrom[] })[]
  readonly seasons: readonly (Named & {
    readonly startsOn: IsoDate
    readonly endsOn: IsoDate
    readonly closedAt: Date | null
  })[]
  readonly crops: readonly (Named & { readonly askAboveGPerM2: number | null })[]
  readonly plantings: readonly PlantingOfRecord[]
  readonly assignments: readonly {
    readonly seasonId: string
    readonly gardenId: string
    readonly bedId: string | null
    readonly methodId: string
    readonly phase: string
  }[]
  readonly inputs: readonly { readonly name: string; readonly unit: string }[]
  /** "planting day g g" of the weights that stand already, where weights are read. */
  readonly weighed: ReadonlySet<string>
  /** Weighings of one planting, of which a later one may be the same lot, by their ids; where weights are read. */
  readonly lots: ReadonlyMap<string, Lot>
  /** The first day on which all of a planting was lost. */
  readonly gone: readonly { readonly plantingId: string; readonly lostOn: IsoDate }[]
  /** "planting week" (`sealedKey`) of what has a label that is not opened yet. */
  readonly sealed: ReadonlySet<string>
  readonly closings: readonly { readonly gardenId: string; readonly isoWeek: IsoWeek; readonly what: What }[]
}

export interface KnownRecord extends KnownRows {
  siteNamed(name: string): Named | undefined
  gardenNamed(name: string): KnownRows['gardens'][number] | undefined
  bedNamed(gardenId: string, name: string): KnownRows['beds'][number] | undefined
  cropNamed(name: string): KnownRows['crops'][number] | undefined
  cropOf(cropId: string): KnownRows['crops'][number] | undefined
  seasonNamed(name: string): KnownRows['seasons'][number] | undefined
  plantingsIn(gardenId: string, crop: string): readonly PlantingOfRecord[]
  plantingsOfBed(bedId: string): readonly PlantingOfRecord[]
  /** The same for the rules of the diary. */
  readonly diary: Known
  /** What a planting is called. */
  nameOf(plantingId: string): string
  isClosed(gardenId: string, isoWeek: IsoWeek, what: 'hours' | 'weights'): boolean
}

/** Names are found without regard to capitals and spaces; each is looked up once for all lines. */
export function knownRecord(rows: KnownRows): KnownRecord {
  const byName = <T extends Named>(list: readonly T[], key: (one: T) => string = (one) => plainName(one.name)) =>
    new Map(list.map((one) => [key(one), one]))
  const [sites, gardens, crops, seasons] = [
    byName(rows.sites),
    byName(rows.gardens),
    byName(rows.crops),
    byName(rows.seasons),
  ]
  const beds = byName(rows.beds, (bed) => `${bed.gardenId} ${plainName(bed.name)}`)
  const gardenOfBed = new Map(rows.beds.map((bed) => [bed.id, bed.gardenId]))
  const cropById = new Map(rows.crops.map((crop) => [crop.id, crop]))
  const planted = groupedBy(rows.plantings, (one) => `${gardenOfBed.get(one.bedId)} ${plainName(one.crop)}`)
  const inBed = groupedBy(rows.plantings, (one) => one.bedId)
  const names = plantingNames(rows.plantings, rows.locale)
  const closed = new Set(rows.closings.map((one) => closedKey(one.what, one.gardenId, one.isoWeek)))
  return {
    ...rows,
    siteNamed: (name) => sites.get(plainName(name)),
    gardenNamed: (name) => gardens.get(plainName(name)),
    bedNamed: (gardenId, name) => beds.get(`${gardenId} ${plainName(name)}`),
    cropNamed: (name) => crops.get(plainName(name)),
    cropOf: (cropId) => cropById.get(cropId),
    seasonNamed: (name) => seasons.get(plainName(name)),
    plantingsIn: (gardenId, crop) => planted.get(`${gardenId} ${plainName(crop)}`) ?? [],
    plantingsOfBed: (bedId) => inBed.get(bedId) ?? [],
    nameOf: (plantingId) => textIn(names, plantingId),
    diary: forDiary(rows, { closed, gardenOfBed, cropById }),
    isClosed: (gardenId, isoWeek, what) => closed.has(closedKey(what, gardenId, isoWeek)),
  }
}

interface Indexes {
  readonly closed: ReadonlySet<string>
  readonly gardenOfBed: ReadonlyMap<string, string>
  readonly cropById: ReadonlyMap<string, KnownRows['crops'][number]>
}

function forDiary(rows: KnownRows, { closed, gardenOfBed, cropById }: Indexes): Known {
  const limit = (cropId: string) => cropById.get(cropId)?.askAboveGPerM2 ?? null
  return {
    today: rows.today,
    names: new Map(rows.gardens.map((one) => [one.id, one.name])),
    gardens: new Set(rows.gardens.map((one) => one.id)),
    gardenOfBed,
    areasOfBed: new Map(rows.beds.map((bed) => [bed.id, bed.areas])),
    ground: lyingOn(rows.beds, rows.today),
    seasons: rows.seasons.map(({ id, startsOn, endsOn, closedAt }) => ({
      id,
      startsOn,
      endsOn,
      closed: closedAt !== null,
    })),
    assignments: rows.assignments,
    plantings: new Map(rows.plantings.map((one) => [one.id, { ...one, askAboveGPerM2: limit(one.cropId) }])),
    containers: new Map(),
    loads: new Set(),
    closed,
    labels: new Map(),
    sealed: new Map([...rows.sealed].map((key) => [key, ''])),
    // A line of a file has its own id, made from what it says: any weight that stands alike is another one's.
    weighed: new Map([...rows.weighed].map((key) => [key, ['']])),
    picked: new Set(),
    gone: new Map(rows.gone.map((one) => [one.plantingId, one.lostOn])),
  }
}

function groupedBy<T>(list: readonly T[], key: (one: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>()
  for (const one of list) groups.set(key(one), [...(groups.get(key(one)) ?? []), one])
  return groups
}

type PlantingFound =
  | { readonly kind: 'answer'; readonly planting: PlantingOfRecord }
  | { readonly kind: 'refused'; readonly why: 'none' | 'several' | 'beforeSown' | 'afterCleared' | 'noneStands' }

/** What is kept dried or in a store is weighed after it was cleared too. */
const refusedOn = (one: PlantingOfRecord, day: string, isKept: boolean) => {
  const refused = standingRefused(one, day)
  return refused === 'afterCleared' && (isKept || one.weighedAs !== null) ? undefined : refused
}

/** The one planting that the names fit and that stood on that day. */
export function plantingStanding(fitting: readonly PlantingOfRecord[], day: string, isKept: boolean): PlantingFound {
  const weighingRefused = (one: PlantingOfRecord, on: string) => refusedOn(one, on, isKept)
  const [first] = fitting
  if (!first) return { kind: 'refused', why: 'none' }
  const standing = fitting.filter((one) => !weighingRefused(one, day))
  const [only] = standing
  if (only) return standing.length === 1 ? { kind: 'answer', planting: only } : { kind: 'refused', why: 'several' }
  return { kind: 'refused', why: fitting.length === 1 ? (weighingRefused(first, day) ?? 'noneStands') : 'noneStands' }
}
