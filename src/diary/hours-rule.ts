import { areaOver } from '../gardens/areas-held.ts'
import { daysOf, type IsoWeek, thursdayOf } from '../quantities/iso-week.ts'
import { splitExactly } from '../quantities/split-exactly.ts'
import { isClosed, type Known } from './known.ts'
import { type Refusal, type Ruled, refuse } from './refusal.ts'
import { dayRefused, type Ground, isLong, phaseAt, phaseOf, seasonOfDay, seasonOfPlanting } from './week-rules.ts'

export interface HoursTyped {
  readonly id: string
  readonly isoWeek: IsoWeek
  /** "garden:<id>", "bed:<id>", "planting:<id>"; or the gardens that one stretch of work was done in. */
  readonly place: string | readonly string[]
  readonly shareRule: 'area' | 'equal' | 'given' | null
  readonly shares: ReadonlyMap<string, number>
  readonly task: string
  readonly time: { readonly people: number; readonly personMinutes: number }
  /** Said in a field of its own; null where it is not. */
  readonly people: number | null
  readonly workedOn: string | null
  /** Counts only where the day lies in no season. */
  readonly seasonId: string | null
  /** Counts only where the ground does not say it. */
  readonly phase: string | null
  readonly who: string | null
  readonly effort: number | null
  readonly deliveryId: string | null
  readonly source: 'field' | 'paper'
  /** Of a row that is corrected, and stays with its planting: the season it counts in, closed or not. */
  readonly countedIn?: string | null
  readonly surely: boolean
}

export interface HoursRow {
  readonly labour: {
    readonly id: string
    readonly seasonId: string
    readonly isoWeek: string
    readonly workedOn: string | null
    readonly task: string
    readonly phase: string
    readonly personMinutes: number
    readonly people: number
    readonly gardenId: string | null
    readonly bedId: string | null
    readonly plantingId: string | null
    readonly shareRule: string | null
    readonly who: string | null
    readonly effort: number | null
    readonly source: string
    readonly deliveryId: string | null
  }
  readonly shares: readonly { readonly gardenId: string; readonly share: number | null }[]
}

/** What every door asks of hours. The season comes from the day, and the phase from the ground. */
export function hoursRuled(known: Known, typed: HoursTyped): Ruled<HoursRow> {
  const place = placeOf(known, typed)
  if (place.kind === 'refused') return place
  const season = seasonOf(known, typed)
  if (season.kind === 'refused') return season
  const { ground, ...at } = place.row
  if (ground.some(({ bedId }) => bedId !== null && !hadGround(known, bedId, season.row)))
    return refuse('place', 'noGround')
  const gardenIds = ground.map((one) => one.gardenId)
  if (isClosed(known, 'hours', gardenIds, typed.isoWeek)) return refuse('place', 'isClosed')
  if (typed.deliveryId !== null && !known.loads.has(typed.deliveryId)) return refuse('load', 'notChosen')
  const phase = typed.phase ?? phaseOf(known.assignments, season.row, ground)
  if (!phase) return refuse('phase', 'phaseUnknown')
  const work = workOf(typed)
  if (work.kind === 'refused') return work
  const { personMinutes, people } = work.row
  if (isLong(personMinutes, people, typed.workedOn !== null) && !typed.surely) return refuse('surely', 'longAsk')
  const { id, isoWeek, workedOn, task, who, effort, source, deliveryId } = typed
  const where = { gardenId: at.gardenId, bedId: at.bedId, plantingId: at.plantingId, shareRule: typed.shareRule }
  const counted = { seasonId: season.row, phase, personMinutes, people }
  return {
    kind: 'answer',
    row: {
      labour: { id, isoWeek, workedOn, task, ...counted, ...where, who, effort, source, deliveryId },
      shares: typed.shareRule === null ? [] : gardenIds.map((gardenId) => shareOf(typed, gardenId)),
    },
  }
}

/** Hours on a bed that was not there in their season are in no figure. */
function hadGround(known: Known, bedId: string, seasonId: string): boolean {
  const season = known.seasons.find((one) => one.id === seasonId)
  const areas = known.areasOfBed.get(bedId)
  return season === undefined || areas === undefined || areaOver(areas, season) > 0
}

/** The id of a part, from the id of the whole: the same sheet sent twice makes the same rows. */
type IdOf = (...whole: string[]) => string

/**
 * Work over all gardens by their area, where the method is being established in some and stands in others: a part for each
 * phase, of its gardens, by their area. The parts add up to the minute; each is one over gardens by area, and marked as divided.
 */
export function hoursByPhase(known: Known, typed: HoursTyped, idOf: IdOf): readonly HoursTyped[] {
  const season = seasonOf(known, typed)
  if (typed.shareRule !== 'area' || typed.phase !== null || season.kind === 'refused') return [typed]
  const byPhase = new Map<string | undefined, string[]>()
  for (const gardenId of typed.place) {
    const phase = phaseAt(known.assignments, season.row, { gardenId, bedId: null })
    byPhase.set(phase, [...(byPhase.get(phase) ?? []), gardenId])
  }
  if (byPhase.size < 2 || byPhase.has(undefined)) return [typed]
  const groups = [...byPhase].sort(([one = ''], [two = '']) => (one < two ? -1 : 1))
  // A garden without a bed has no ground to divide by.
  const areas = groups.map(([, gardens]) =>
    known.ground.filter((bed) => gardens.includes(bed.gardenId)).reduce((sum, bed) => sum + bed.areaCm2, 0),
  )
  const minutes = splitExactly(typed.time.personMinutes, areas)
  if (!minutes) return [typed]
  return groups.flatMap(([phase = '', place], i) => {
    const personMinutes = minutes[i] as number
    return personMinutes === 0
      ? []
      : [{ ...typed, id: idOf(typed.id, phase), place, time: { ...typed.time, personMinutes } }]
  })
}

const shareOf = (typed: HoursTyped, gardenId: string) => ({ gardenId, share: typed.shares.get(gardenId) ?? null })

interface Place {
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
  readonly ground: readonly Ground[]
}

const nowhere = { gardenId: null, bedId: null, plantingId: null }

function placeOf(known: Known, typed: HoursTyped): Ruled<Place> {
  if (typeof typed.place !== 'string') {
    const gardenIds = [...new Set(typed.place)]
    if (gardenIds.length === 0 || gardenIds.some((id) => !known.gardens.has(id))) return refuse('place', 'notChosen')
    const noShare = typed.shareRule === 'given' && gardenIds.every((id) => !typed.shares.get(id))
    if (noShare) return refuse('place', 'sharesMissing')
    return { kind: 'answer', row: { ...nowhere, ground: gardenIds.map((gardenId) => ({ gardenId, bedId: null })) } }
  }
  const [kind, id = ''] = typed.place.split(':')
  if (kind === 'garden') {
    if (!known.gardens.has(id)) return refuse('place', 'notChosen')
    return { kind: 'answer', row: { ...nowhere, gardenId: id, ground: [{ gardenId: id, bedId: null }] } }
  }
  const bedId = kind === 'planting' ? known.plantings.get(id)?.bedId : id
  const gardenId = bedId === undefined ? undefined : known.gardenOfBed.get(bedId)
  if (bedId === undefined || gardenId === undefined) return refuse('place', 'notChosen')
  const own = kind === 'planting' ? { plantingId: id } : { bedId: id }
  return { kind: 'answer', row: { ...nowhere, ...own, ground: [{ gardenId, bedId }] } }
}

/**
 * The season of the day, or of the week's Thursday where none is known; where that lies in none, the one that was named. Hours on
 * a planting count toward the season that its kilograms count toward.
 */
function seasonOf(known: Known, typed: HoursTyped): Ruled<string> {
  const { workedOn, isoWeek } = typed
  const daysOfWeek = daysOf(isoWeek)
  const wrongDay = workedOn !== null && dayRefused({ day: workedOn, daysOfWeek, today: known.today })
  if (wrongDay) return refuse('day', wrongDay)
  if ((daysOfWeek[0] ?? '') > known.today) return refuse('day', 'weekAhead')
  const day = workedOn ?? thursdayOf(isoWeek)
  const [kind, id = ''] = typeof typed.place === 'string' ? typed.place.split(':') : []
  const planting = kind === 'planting' ? known.plantings.get(id) : undefined
  if (planting) {
    const found = seasonOfPlanting(known.seasons, planting, { day, written: day })
    if (found.kind === 'answer') return { kind: 'answer', row: found.seasonId }
    if (typed.countedIn) return { kind: 'answer', row: typed.countedIn }
    return refuse('place', found.code, { crop: planting.crop })
  }
  const season = seasonOfDay(known.seasons, day) ?? known.seasons.find((one) => one.id === typed.seasonId)
  if (!season) return refuse('season', 'noSeason')
  const isOver = season.closed && season.endsOn < day && typed.countedIn !== season.id
  return isOver ? refuse('season', 'seasonOver') : { kind: 'answer', row: season.id }
}

/** "2 x 1:30" says how many people; otherwise the field for it does, each that long. Both, and not alike, is a slip. */
function workOf({ time, people }: HoursTyped): Ruled<{ personMinutes: number; people: number }> {
  if (time.people > 1) {
    const twice: Refusal | undefined =
      people !== null && people !== time.people ? refuse('people', 'peopleTwice') : undefined
    return twice ?? { kind: 'answer', row: { personMinutes: time.personMinutes, people: time.people } }
  }
  const several = people ?? 1
  return { kind: 'answer', row: { personMinutes: time.personMinutes * several, people: several } }
}
