import { type AreaFrom, areaOn, areaOver } from '../gardens/areas-held.ts'
import { theOne } from '../lookups/held.ts'
import { linkOf, nameIfAny, textIn } from '../lookups/unsaid.ts'
import { addDays, daysBetween, type IsoDate } from '../quantities/dates.ts'
import { formatArea, formatDay, formatNumber } from '../quantities/formatting.ts'
import { bedCourse, type CourseSpan, type Empty, type InBed, type Standing } from './bed-course.ts'
import { type FamilyReturn, familyReturns, type Rotated } from './family-returns.ts'
import { type Called, cropAndCultivar, plantingNames } from './planting-names.ts'
import { fullestDay } from './room-in-bed.ts'
import { standsIn } from './seasons-stood.ts'

export interface PlanPlanting extends InBed, Rotated, Called {
  readonly purpose: string
  readonly standsOverSeasons: number
  readonly establishingSeasons: number | null
}

export interface PlanRows {
  readonly seasonId: string
  readonly seasons: readonly { id: string; name: string; startsOn: IsoDate; endsOn: IsoDate }[]
  readonly gardens: readonly { id: string; name: string }[]
  readonly beds: readonly { id: string; gardenId: string; name: string; areas: readonly AreaFrom[] }[]
  readonly crops: readonly { id: string; name: string; family: string | null }[]
  readonly plantings: readonly PlanPlanting[]
}

/** What other chapters know of plantings, by planting. */
export interface Seen {
  /** The day on which something of it was first weighed. */
  readonly picked: ReadonlyMap<string, IsoDate>
  readonly stands: readonly { plantingId: string; countedOn: IsoDate; standing: number; sown: number }[]
}

/** A season's beds in the order in which they are walked, each with what follows what in it. */
export function planPage(rows: PlanRows, { locale, years, seen }: { locale: string; years: number; seen: Seen }) {
  const season = theOne(rows.seasons, (one) => one.id === rows.seasonId)
  const span = { from: season.startsOn, to: addDays(season.endsOn, 1) }
  const returns = returnsSaid(rows, years)
  const ofSeason = rows.plantings.filter((one) => standsIn(one, rows.seasonId, rows.seasons))
  const names = plantingNames(rows.plantings, locale)
  const said = { rows, locale, returns, seen, names }
  return {
    gardens: rows.gardens.map((garden) => ({
      id: garden.id,
      name: garden.name,
      beds: rows.beds
        .filter((bed) => bed.gardenId === garden.id && areaAtEnd(bed.areas, span) > 0)
        .map((bed) => bedSaid(bed, span, said)),
    })),
    planted: ofSeason.length,
    returning: ofSeason.filter((one) => returns.has(one.id)).length,
    years,
    withoutFamily: withoutFamily(rows, ofSeason),
  }
}

export interface ReturnSaid {
  readonly family: string
  readonly earlier: string
  readonly season: string
  readonly years: number
}

/** By planting: which family comes back too soon, and after what. */
export function returnsSaid(rows: Omit<PlanRows, 'gardens' | 'beds'>, years: number): Map<string, ReturnSaid> {
  const planting = new Map(rows.plantings.map((one) => [one.id, one]))
  const seasonName = new Map(rows.seasons.map((one) => [one.id, one.name]))
  const said = (one: FamilyReturn): ReturnSaid => {
    const earlier = planting.get(one.earlierId)
    const season = textIn(seasonName, linkOf(earlier?.seasonId))
    return { family: one.family, earlier: earlier ? cropAndCultivar(earlier) : '', season, years: one.years }
  }
  return new Map(
    familyReturns(rows.plantings, rows.crops, rows.seasons, years).map((one) => [one.plantingId, said(one)]),
  )
}

interface Said {
  readonly rows: PlanRows
  readonly locale: string
  readonly returns: ReadonlyMap<string, ReturnSaid>
  readonly seen: Seen
  readonly names: ReadonlyMap<string, string>
}

/** The area that a bed has at the end of a span, or had in it before it was given up; 0 where it is not there in it. */
const areaAtEnd = (areas: readonly AreaFrom[], { from, to }: CourseSpan): number =>
  areaOn(areas, to) || areaOver(areas, { startsOn: from, endsOn: to })

function bedSaid(bed: PlanRows['beds'][number], span: CourseSpan, said: Said) {
  const here = said.rows.plantings.filter((one) => one.bedId === bed.id)
  const course = bedCourse(here, span)
  const fullest = fullestDay(bed.areas, here, span)
  const free = fullest === null ? 0 : fullest.holdsCm2 - fullest.needsCm2
  return {
    id: bed.id,
    name: bed.name,
    area: formatArea(areaAtEnd(bed.areas, span), said.locale),
    free: free > 0 ? formatArea(free, said.locale) : null,
    untouched: course.fullestCm2 === 0,
    steps: course.steps.map((step) => (step.kind === 'empty' ? emptySaid(step, said) : standingSaid(step, said))),
  }
}

const emptySaid = ({ from, to, days }: Empty, { locale }: Said) => ({
  kind: 'empty' as const,
  from: formatDay(from, locale),
  to: formatDay(addDays(to, -1), locale),
  days,
})

function standingSaid({ planting, from, until, after, emptyDays, beside }: Standing<PlanPlanting>, said: Said) {
  const { rows, locale } = said
  const season = rows.seasons.find((one) => one.id === planting.seasonId)
  const named = ({ id }: PlanPlanting) => textIn(said.names, id)
  return {
    kind: 'planting' as const,
    id: planting.id,
    name: cropAndCultivar(planting),
    area: formatArea(planting.areaCm2, locale),
    from: formatDay(from, locale),
    to: until ? formatDay(until, locale) : null,
    planned: until !== null && planting.clearedOn === null,
    raisedFrom: planting.sownOn && planting.sownOn !== from ? formatDay(planting.sownOn, locale) : null,
    purpose: planting.purpose === 'harvest' ? null : planting.purpose,
    interplanted: planting.interplanted === 1,
    ofSeason: standsIn(planting, rows.seasonId, rows.seasons) ? null : nameIfAny(season),
    after: after.map(named),
    emptyDays,
    beside: beside.map(named),
    returns: said.returns.get(planting.id) ?? null,
    picked: pickedSaid(planting, said),
    cameUp: cameUpSaid(planting, said),
  }
}

/** From sowing to the first weighing; from planting out where no day of sowing is known. */
function pickedSaid({ id, sownOn, plantedOn }: PlanPlanting, { seen, locale }: Said) {
  const [on, from] = [seen.picked.get(id), sownOn ?? plantedOn]
  if (!on || !from) return null
  return { on: formatDay(on, locale), days: daysBetween(from, on), sown: sownOn !== null }
}

function cameUpSaid({ id }: PlanPlanting, { seen, locale }: Said) {
  const stand = seen.stands.find((one) => one.plantingId === id)
  if (!stand) return null
  const percent = formatNumber((100 * stand.standing) / stand.sown, locale, 0)
  const whole = (count: number) => formatNumber(count, locale, 0)
  return { standing: whole(stand.standing), sown: whole(stand.sown), percent, on: formatDay(stand.countedOn, locale) }
}

/** Crops of the season whose family is not written down: they are not looked at. */
function withoutFamily(rows: PlanRows, ofSeason: readonly PlanPlanting[]): string[] {
  const planted = new Set(ofSeason.map((one) => one.cropId))
  return rows.crops.filter((crop) => planted.has(crop.id) && !crop.family?.trim()).map((crop) => crop.name)
}
