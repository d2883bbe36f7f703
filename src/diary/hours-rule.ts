import { areaOver } from '../gardens/areas-held.ts'
import { asShown } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { daysOf, type IsoWeek, thursdayOf } from '../quantities/iso-week.ts'
import { type Known, weekIsClosed } from './known.ts'
import { type RowRefusal, type Ruled, refuse } from './refusal.ts'
import { dayRefused, type Ground, isLong, phaseOf, seasonOfDay, seasonOfPlanting } from './week-rules.ts'

export interface HoursTyped {
  readonly id: string
  readonly isoWeek: IsoWeek
  /**
   * "garden:<id>", "bed:<id>", "planting:<id>"; "part:<garden>.<method>", the beds of a garden under one of its
   * methods; or the gardens, or the beds of one garden, that one stretch of work was done in.
   */
  readonly place: string | readonly string[]
  readonly shareRule: 'area' | 'equal' | 'given' | null
  readonly shares: ReadonlyMap<string, number>
  readonly task: string
  readonly time: { readonly people: number; readonly personMinutes: number }
  /** Said in a field of its own; null where it is not. */
  readonly people: number | null
  readonly workedOn: IsoDate | null
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
    readonly isoWeek: IsoWeek
    readonly workedOn: IsoDate | null
    readonly task: string
    readonly phase: string | null
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
  readonly shares: readonly {
    readonly gardenId: string
    readonly bedId: string | null
    readonly share: number | null
  }[]
}

/**
 * What every door asks of hours. The season comes from the day, and the phase from the ground; where that carries
 * several, the entry stays one, and is divided by area over its beds wherever figures are made.
 */
export function hoursRuled(known: Known, typed: HoursTyped): Ruled<HoursRow> {
  const season = seasonOf(known, typed)
  const place = placeOf(known, typed, season.kind === 'refused' ? '' : season.row)
  if (place.kind === 'refused') return place
  if (season.kind === 'refused') return season
  const { ground, shareRule, ...at } = place.row
  if (ground.some(({ bedId }) => bedId !== null && !hadGround(known, bedId, season.row)))
    return refuse('place', 'noGround')
  if (ground.some(({ gardenId, bedId }) => bedId === null && !hadBeds(known, gardenId, season.row)))
    return refuse('place', 'noBeds')
  const gardenIds = ground.map((one) => one.gardenId)
  if (weekIsClosed(known, 'hours', gardenIds, typed.isoWeek)) return refuse('place', 'isClosed')
  if (typed.deliveryId !== null && !known.loads.has(typed.deliveryId)) return refuse('load', 'notChosen')
  const phase = typed.phase ?? phaseOf(known, season.row, ground)
  if (phase === undefined) return refuse('phase', 'phaseUnknown')
  const work = workOf(typed)
  if (work.kind === 'refused') return work
  const { personMinutes, people } = work.row
  if (isLong(personMinutes, people, typed.workedOn !== null) && !typed.surely) return refuse('surely', 'longAsk')
  const { id, isoWeek, workedOn, task, who, effort, source, deliveryId } = typed
  const where = { ...at, shareRule }
  const counted = { seasonId: season.row, phase, personMinutes, people }
  return {
    kind: 'answer',
    row: {
      labour: { id, isoWeek, workedOn, task, ...counted, ...where, who, effort, source, deliveryId },
      shares:
        shareRule === null ? [] : ground.map((one) => ({ ...one, share: typed.shares.get(one.gardenId) ?? null })),
    },
  }
}

/** Hours on a bed that was not there in their season are in no figure. */
function hadGround(known: Known, bedId: string, seasonId: string): boolean {
  const season = known.seasons.find((one) => one.id === seasonId)
  const areas = known.areasOfBed.get(bedId)
  return season === undefined || areas === undefined || areaOver(areas, season) > 0
}

/** Nor are hours on a garden that had no bed then: what falls on the ground is divided over its beds. */
function hadBeds(known: Known, gardenId: string, seasonId: string): boolean {
  for (const [bedId, of] of known.gardenOfBed) if (of === gardenId && hadGround(known, bedId, seasonId)) return true
  return false
}

interface Place {
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
  readonly shareRule: HoursTyped['shareRule']
  readonly ground: readonly Ground[]
}

const nowhere = { gardenId: null, bedId: null, plantingId: null, shareRule: null }
const there = (row: Place): Ruled<Place> => ({ kind: 'answer', row })

function placeOf(known: Known, typed: HoursTyped, seasonId: string): Ruled<Place> {
  if (typeof typed.place !== 'string') return overSeveral(known, typed, typed.place)
  const [kind, id = ''] = typed.place.split(':')
  if (kind === 'garden') {
    if (!known.gardens.has(id)) return refuse('place', 'notChosen')
    return there({ ...nowhere, gardenId: id, ground: [{ gardenId: id, bedId: null }] })
  }
  if (kind === 'part') return onPart(known, id, seasonId)
  const bedId = kind === 'planting' ? known.plantings.get(id)?.bedId : id
  const gardenId = bedId === undefined ? undefined : known.gardenOfBed.get(bedId)
  if (bedId === undefined || gardenId === undefined) return refuse('place', 'notChosen')
  const own = kind === 'planting' ? { plantingId: id } : { bedId: id }
  return there({ ...nowhere, ...own, ground: [{ gardenId, bedId }] })
}

/** Gardens by their ids, or beds. */
function overSeveral(known: Known, typed: HoursTyped, place: readonly string[]): Ruled<Place> {
  const ground = [...new Set(place)].flatMap((id): Ground[] => {
    if (known.gardens.has(id)) return [{ gardenId: id, bedId: null }]
    const gardenId = known.gardenOfBed.get(id)
    return gardenId === undefined ? [] : [{ gardenId, bedId: id }]
  })
  if (ground.length === 0 || ground.length < new Set(place).size) return refuse('place', 'notChosen')
  const noShare = typed.shareRule === 'given' && ground.every((one) => !typed.shares.get(one.gardenId))
  if (noShare) return refuse('place', 'sharesMissing')
  return there({ ...nowhere, shareRule: typed.shareRule, ground })
}

/** The beds of a garden that lie under one of its methods in the season; where it is one bed, that bed. */
function onPart(known: Known, part: string, seasonId: string): Ruled<Place> {
  const [gardenId = '', methodId] = part.split('.')
  const beds = bedsWithMethod(known, gardenId, seasonId).filter((bed) => bed.methodId === methodId)
  const ground = beds.map((bed) => ({ gardenId, bedId: bed.id }))
  const [only, ...others] = ground
  if (methodId === undefined || only === undefined) return refuse('place', 'notChosen')
  return there(
    others.length === 0 ? { ...nowhere, bedId: only.bedId, ground } : { ...nowhere, shareRule: 'area', ground },
  )
}

function bedsWithMethod(known: Known, gardenId: string, seasonId: string) {
  const lying = known.assignments.filter((one) => one.seasonId === seasonId && one.gardenId === gardenId)
  const whole = lying.find((one) => one.bedId === null)
  return known.ground
    .filter((bed) => bed.gardenId === gardenId && bed.areaCm2 > 0)
    .map(({ id }) => ({ id, methodId: (lying.find((one) => one.bedId === id) ?? whole)?.methodId }))
}

type OnGround = Pick<HoursRow['labour'], 'gardenId' | 'seasonId' | 'phase'>

/** Whether hours or a load on one garden are divided by area, since its beds carry several phases or methods. */
export function isDivided(known: Known, { gardenId, seasonId, phase }: OnGround): boolean {
  if (phase === null) return true
  return gardenId !== null && new Set(bedsWithMethod(known, gardenId, seasonId).map((bed) => bed.methodId)).size > 1
}

/**
 * The season of the day, or of the week's Thursday where none is known; where that lies in none, the one that was
 * named. Hours on a planting count toward the season that its kilograms count toward.
 */
function seasonOf(known: Known, typed: HoursTyped): Ruled<string> {
  const { workedOn, isoWeek } = typed
  const daysOfWeek = daysOf(isoWeek)
  const wrongDay = workedOn !== null && dayRefused({ day: workedOn, daysOfWeek, today: known.today })
  if (wrongDay) return refuse('day', wrongDay)
  if (asShown(daysOfWeek[0]) > known.today) return refuse('day', 'weekAhead')
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
    const twice: RowRefusal | undefined =
      people !== null && people !== time.people ? refuse('people', 'peopleTwice') : undefined
    return twice ?? { kind: 'answer', row: { personMinutes: time.personMinutes, people: time.people } }
  }
  const several = people ?? 1
  return { kind: 'answer', row: { personMinutes: time.personMinutes * several, people: several } }
}
