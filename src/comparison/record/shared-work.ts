import { type AreaFrom, areaOver, type Span } from '../../gardens/areas-held.ts'
import { rowsWith, rowWith } from '../../lookups/rows-with.ts'
import { splitExactly } from '../../quantities/split-exactly.ts'

export interface SharedGround {
  readonly seasons: readonly (Span & { readonly id: string })[]
  readonly beds: readonly { readonly id: string; readonly gardenId: string; readonly areas: readonly AreaFrom[] }[]
  readonly plantings: readonly { readonly id: string; readonly bedId: string }[]
  readonly assignments: readonly {
    readonly seasonId: string
    readonly gardenId: string
    readonly bedId: string | null
    readonly phase?: string
  }[]
}

interface SharedWork {
  readonly seasonId: string
  readonly minutes: number
  readonly rule: string
}

/**
 * Divides shared minutes over gardens by their rule; the parts add up to the minute. By area: as it lay in the season
 * of the work.
 */
function partsOfWork(
  { seasonId, minutes, rule }: SharedWork,
  shares: readonly { gardenId: string; share: number | null }[],
  ground: SharedGround,
) {
  const weights = shares.map((share) => {
    // A part given by hand is never null; the column is, for the other rules.
    if (rule === 'given') return share.share ?? 0
    return rule === 'equal' ? 1 : areaOf(share.gardenId, seasonId, ground)
  })
  const parts = splitExactly(minutes, weights)
  // Ground of no area bears no part.
  return shares.map((share, i) => ({ gardenId: share.gardenId, minutes: parts?.[i] ?? 0 }))
}

const areaOf = (gardenId: string, seasonId: string, { seasons, beds }: SharedGround): number => {
  const own = rowsWith(beds, 'gardenId', gardenId)
  return own.reduce((sum, bed) => sum + areaIn(bed, seasonId, seasons), 0)
}

function areaIn({ areas }: SharedGround['beds'][number], seasonId: string, seasons: SharedGround['seasons']): number {
  const season = rowWith(seasons, 'id', seasonId)
  return season ? areaOver(areas, season) : 0
}

interface Where {
  readonly seasonId: string
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
}

interface Work extends Where {
  readonly phase: string | null
  readonly personMinutes: number
  readonly shareRule: string | null
}

interface ShareOfWork {
  readonly gardenId: string
  readonly bedId: string | null
  readonly share: number | null
}

/** A part of an entry of hours: on some beds, in one phase. */
interface PartOfWork {
  readonly gardenId: string | null
  readonly bedIds: readonly string[]
  readonly phase: string
  readonly minutes: number
  /** Written for some beds of its garden, which are neither one nor all of them. */
  readonly someBeds: boolean
  /** The beds that it was written for, where they carry several phases and this is the part of one. */
  readonly writtenFor: readonly string[] | null
}

/**
 * An entry of hours in its parts: over gardens by their rule, and where its ground carries several phases by the area
 * that each has of it in the season. The parts add up to the minute.
 */
export function partsOfEntry(work: Work, shares: readonly ShareOfWork[], ground: SharedGround): PartOfWork[] {
  return placesOfEntry(work, shares, ground).flatMap((place) => byPhase(work, place, ground))
}

type PlaceOfWork = Pick<PartOfWork, 'gardenId' | 'bedIds' | 'minutes' | 'someBeds'>

function placesOfEntry(work: Work, shares: readonly ShareOfWork[], ground: SharedGround): PlaceOfWork[] {
  const { seasonId, personMinutes: minutes, shareRule: rule } = work
  if (rule === null) return [{ gardenId: work.gardenId, bedIds: bedsAt(work, ground), minutes, someBeds: false }]
  const beds = shares.flatMap((one) => one.bedId ?? [])
  const [first] = shares
  if (first && beds.length > 0) {
    const lying = bedsAt({ ...nowhere, seasonId, gardenId: first.gardenId }, ground)
    return [{ gardenId: first.gardenId, bedIds: lying.filter((id) => beds.includes(id)), minutes, someBeds: true }]
  }
  return partsOfWork({ seasonId, minutes, rule }, shares, ground).map((part) => ({
    ...part,
    bedIds: bedsAt({ ...nowhere, seasonId, gardenId: part.gardenId }, ground),
    someBeds: false,
  }))
}

function byPhase({ seasonId, phase }: Work, place: PlaceOfWork, ground: SharedGround): PartOfWork[] {
  if (phase !== null) return [{ ...place, phase, writtenFor: null }]
  const beds = new Map<string, string[]>()
  for (const id of place.bedIds) {
    const own = phaseOfBed(id, seasonId, ground)
    beds.set(own, [...(beds.get(own) ?? []), id])
  }
  const groups = [...beds].sort(([one], [two]) => (one < two ? -1 : 1))
  const area = (ids: readonly string[]) =>
    ground.beds.reduce((sum, bed) => sum + (ids.includes(bed.id) ? areaIn(bed, seasonId, ground.seasons) : 0), 0)
  const parts = splitExactly(
    place.minutes,
    groups.map(([, ids]) => area(ids)),
  )
  const writtenFor = groups.length > 1 ? place.bedIds : null
  return groups.flatMap(([own, bedIds], i) => {
    const minutes = parts?.[i]
    return minutes === undefined ? [] : [{ ...place, phase: own, bedIds, minutes, writtenFor }]
  })
}

/** A bed under no method brings nothing to any sum, whatever its phase is called. */
export function phaseOfBed(
  id: string,
  seasonId: string,
  { beds, assignments }: Pick<SharedGround, 'beds' | 'assignments'>,
): string {
  const gardenId = rowWith(beds, 'id', id)?.gardenId
  const lying = rowsWith(assignments, 'seasonId', seasonId).filter((one) => one.gardenId === gardenId)
  const own = lying.find((one) => one.bedId === id) ?? lying.find((one) => one.bedId === null)
  return own?.phase ?? 'established'
}

const nowhere = { bedId: null, plantingId: null }

/** The beds on which something was done: of a whole garden those that had ground in that season. */
export function bedsAt({ seasonId, gardenId, bedId, plantingId }: Where, ground: SharedGround): readonly string[] {
  if (gardenId) return bedsOfGarden(gardenId, seasonId, ground)
  const own = bedId ?? (plantingId && rowWith(ground.plantings, 'id', plantingId)?.bedId)
  return own ? bedAlone(own, ground) : []
}

/** One list for each bed, in common with all that was done on it. */
function bedAlone(bedId: string, ground: SharedGround): readonly string[] {
  const ofGround = alone.get(ground) ?? new Map<string, readonly string[]>()
  alone.set(ground, ofGround)
  const ids = ofGround.get(bedId) ?? [bedId]
  ofGround.set(bedId, ids)
  return ids
}

const alone = new WeakMap<SharedGround, Map<string, readonly string[]>>()

/** Made once for each garden and season of a ground: thousands of entries are of one garden. */
function bedsOfGarden(gardenId: string, seasonId: string, ground: SharedGround): readonly string[] {
  const ofGround = lying.get(ground) ?? new Map<string, readonly string[]>()
  lying.set(ground, ofGround)
  const key = `${gardenId} ${seasonId}`
  const found = ofGround.get(key)
  if (found) return found
  const own = rowsWith(ground.beds, 'gardenId', gardenId).filter((bed) => areaIn(bed, seasonId, ground.seasons) > 0)
  const ids = own.map((bed) => bed.id)
  ofGround.set(key, ids)
  return ids
}

const lying = new WeakMap<SharedGround, Map<string, readonly string[]>>()

/** The beds that an entry touches at all its places, each once. */
export function bedsOfPlaces(
  places: readonly Omit<Where, 'seasonId'>[],
  seasonId: string,
  ground: SharedGround,
): readonly string[] {
  const at = ({ gardenId, bedId, plantingId }: Omit<Where, 'seasonId'>) =>
    bedsAt({ gardenId, bedId, plantingId, seasonId }, ground)
  const [only, second] = places
  if (only && !second) return at(only)
  return [...new Set(places.flatMap(at))]
}
