import { addDays, daysBetween, type IsoDate } from '../quantities/dates.ts'
import { formatArea, formatDay } from '../quantities/formatting.ts'
import { endOf, inBedFrom } from './bed-course.ts'
import { type PlanPlanting, type PlanRows, returnsSaid } from './plan.page.ts'
import { cropAndCultivar } from './planting-names.ts'
import { fullestDay } from './room-in-bed.ts'

/** The season before one, and the days by which its plantings move. */
export function seasonBefore({ seasons, seasonId }: Pick<PlanRows, 'seasons' | 'seasonId'>) {
  const i = seasons.findIndex((one) => one.id === seasonId)
  const [before, own] = [seasons[i - 1], seasons[i]]
  if (!before || !own) return null
  return { ...before, days: daysBetween(before.startsOn as IsoDate, own.startsOn as IsoDate) }
}

export interface LinesAsked {
  readonly ticked: ReadonlySet<number>
  readonly beds: ReadonlyMap<number, number>
}

interface Line {
  readonly number: number
  readonly planting: PlanPlanting
  readonly bed: PlanRows['beds'][number]
  readonly ticked: boolean
  /** What it became in this season, where it was carried already. */
  readonly there: PlanPlanting | undefined
}

/**
 * Each planting of the season before that stood in a bed which is still there, in the order of the walk, with the bed it would
 * go to: the one chosen, or the next one of its garden in turn.
 */
function linesOf(rows: PlanRows, asked: LinesAsked | null): Line[] {
  const before = seasonBefore(rows)
  const inOrder = rows.gardens.flatMap((garden) => rows.beds.filter((bed) => bed.gardenId === garden.id))
  const stood = inOrder.flatMap((bed) =>
    rows.plantings
      .filter((one) => one.seasonId === before?.id && one.bedId === bed.id)
      .sort((a, b) => (inBedFrom(a) < inBedFrom(b) ? -1 : inBedFrom(a) > inBedFrom(b) ? 1 : a.id < b.id ? -1 : 1))
      .map((planting) => ({ planting, own: inOrder.filter((one) => one.gardenId === bed.gardenId) })),
  )
  const offered = stood.map(({ planting, own }) => ({
    planting,
    own,
    next: own[(own.findIndex((bed) => bed.id === planting.bedId) + 1) % own.length],
  }))
  const there = carriedAlready(rows, before?.days ?? 0, offered)
  return offered.flatMap(({ planting, own, next }, number) => {
    const bed = own[asked?.beds.get(number) ?? -1] ?? next
    const already = there.get(planting.id)
    const ticked = asked === null ? already === undefined : asked.ticked.has(number)
    return bed ? [{ number, planting, bed, ticked, there: already }] : []
  })
}

interface Offered {
  readonly planting: PlanPlanting
  readonly own: readonly { readonly id: string }[]
  readonly next: { readonly id: string } | undefined
}

/**
 * What of this season is a line carried before, by the planting it came from: the same cultivar and area in that garden, on the
 * day it would move to; or else in the bed it would go to, since a day may have been corrected. Each is one line's only.
 */
function carriedAlready(rows: PlanRows, days: number, offered: readonly Offered[]): ReadonlyMap<string, PlanPlanting> {
  const left = new Set(rows.plantings.filter((one) => one.seasonId === rows.seasonId))
  const there = new Map<string, PlanPlanting>()
  const take = (line: Offered, fits: (one: PlanPlanting) => boolean) => {
    const { planting } = line
    if (there.has(planting.id)) return
    const alike = (one: PlanPlanting) =>
      cropAndCultivar(one) === cropAndCultivar(planting) && one.areaCm2 === planting.areaCm2
    const found = [...left].find((one) => alike(one) && fits(one))
    if (!found) return
    left.delete(found)
    there.set(planting.id, found)
  }
  for (const line of offered) {
    const day = addDays(inBedFrom(line.planting) as IsoDate, days)
    take(line, (one) => inBedFrom(one) === day && line.own.some((bed) => bed.id === one.bedId))
  }
  for (const line of offered) take(line, (one) => one.bedId === line.next?.id)
  return there
}

/** Lines as they were confirmed, by the numbers that the page gives them. */
export function chosenAs(rows: PlanRows, kept: readonly { plantingId: string; bedId: string }[]): LinesAsked {
  const bedOf = new Map(kept.map((one) => [one.plantingId, one.bedId]))
  const taken = linesOf(rows, null).filter((line) => bedOf.has(line.planting.id))
  const numberOf = (line: Line) =>
    rows.beds
      .filter((one) => one.gardenId === line.bed.gardenId)
      .findIndex((one) => one.id === bedOf.get(line.planting.id))
  return {
    ticked: new Set(taken.map((line) => line.number)),
    beds: new Map(taken.map((line) => [line.number, numberOf(line)])),
  }
}

/** What of a season would go into the next one, and what that would lead to: nothing is stored. */
export function carryPage(
  rows: PlanRows,
  { locale, years, asked }: { locale: string; years: number; asked: LinesAsked | null },
) {
  const before = seasonBefore(rows)
  const days = before?.days ?? 0
  const lines = linesOf(rows, asked)
  const taken = lines.filter((line) => line.ticked)
  const would = taken.map((line) => movedTo(line, rows.seasonId, days))
  const all = { ...rows, plantings: [...rows.plantings, ...would.map((one) => one.planting)] }
  const returns = returnsSaid(all, years)
  const gardenName = new Map(rows.gardens.map((garden) => [garden.id, garden.name]))
  const bedName = new Map(rows.beds.map((bed) => [bed.id, bed.name]))
  const offered = lines.map(({ number, planting, bed, ticked, there }) => ({
    ...{ number, ticked, name: cropAndCultivar(planting), area: formatArea(planting.areaCm2, locale) },
    ...{ gardenId: bed.gardenId, garden: gardenName.get(bed.gardenId) ?? '' },
    stoodIn: bedName.get(planting.bedId) ?? '',
    there: there ? (bedName.get(there.bedId) ?? '') : null,
    day: formatDay(addDays(inBedFrom(planting) as IsoDate, days), locale),
    bed: rows.beds.filter((one) => one.gardenId === bed.gardenId).findIndex((one) => one.id === bed.id),
    beds: rows.beds
      .filter((one) => one.gardenId === bed.gardenId)
      .map(({ name }, value) => ({ value: String(value), label: name })),
  }))
  const stood = rows.plantings.filter((one) => one.seasonId === before?.id).length
  return {
    before: before?.name ?? null,
    days,
    already: rows.plantings.filter((one) => one.seasonId === rows.seasonId).length,
    without: stood - lines.length,
    lines: offered,
    gardens: rows.gardens.flatMap(({ id, name }) => {
      const own = offered.filter((line) => line.gardenId === id)
      return own.length > 0 ? [{ name, lines: own }] : []
    }),
    preview:
      asked === null
        ? null
        : {
            kept: taken.map((line) => `${line.planting.id}:${line.bed.id}`).join(','),
            lines: would.map(({ planting, bed }) => ({
              name: cropAndCultivar(planting),
              area: formatArea(planting.areaCm2, locale),
              garden: gardenName.get(bed.gardenId) ?? '',
              bed: bed.name,
              day: formatDay(inBedFrom(planting), locale),
              returns: returns.get(planting.id) ?? null,
            })),
            returning: would.filter((one) => returns.has(one.planting.id)).length,
            tooFull: tooFull(all, would, locale),
          },
  }
}

function movedTo({ planting, bed, number }: Line, seasonId: string, days: number) {
  const moved = (day: string | null) => (day === null ? null : addDays(day as IsoDate, days))
  const dated = {
    sownOn: moved(planting.sownOn),
    plantedOn: moved(planting.plantedOn),
    clearedOn: null,
    standsUntil: moved(endOf(planting)),
  }
  return { bed, planting: { ...planting, ...dated, id: `would be ${number}`, seasonId, bedId: bed.id } }
}

/** Beds that could not hold it: what is not cleared stands on, so that two that follow one another are counted together. */
function tooFull(rows: PlanRows, would: readonly { bed: PlanRows['beds'][number] }[], locale: string) {
  const wanted = new Set(would.map((one) => one.bed.id))
  return rows.beds.flatMap((bed) => {
    if (!wanted.has(bed.id)) return []
    const here = rows.plantings.filter((one) => one.bedId === bed.id)
    const fullest = fullestDay(bed.areas, here)
    if (fullest === null || fullest.needsCm2 <= fullest.holdsCm2) return []
    const garden = rows.gardens.find((one) => one.id === bed.gardenId)?.name ?? ''
    const [needs, holds] = [formatArea(fullest.needsCm2, locale), formatArea(fullest.holdsCm2, locale)]
    return [{ garden, bed: bed.name, needs, holds }]
  })
}
