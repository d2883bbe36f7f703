import { nameIfAny } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatArea, formatDay } from '../quantities/formatting.ts'
import { inBedFrom } from './bed-course.ts'
import { type CarryLine, type CarryRows, type LinesAsked, linesOf, movedTo, seasonBefore } from './carry-lines.page.ts'
import { returnsSaid } from './plan.page.ts'
import { cropAndCultivar } from './planting-names.ts'

export interface LineKept {
  readonly plantingId: string
  readonly bedId: string
  readonly day: IsoDate
}

/** Lines as they were confirmed, by the numbers that the page gives them. */
export function chosenAs(rows: CarryRows, kept: readonly LineKept[]): LinesAsked {
  const keptOf = new Map(kept.map((one) => [one.plantingId, one]))
  const taken = linesOf(rows, null).filter((line) => keptOf.has(line.planting.id))
  const bedOf = ({ beds, planting }: CarryLine) => beds.findIndex((bed) => bed.id === keptOf.get(planting.id)?.bedId)
  return {
    ticked: new Set(taken.map((line) => line.number)),
    beds: new Map(taken.map((line) => [line.number, bedOf(line)])),
    days: new Map(taken.map((line) => [line.number, keptOf.get(line.planting.id)?.day ?? line.day])),
    first: null,
  }
}

/** What of a season would go into the next one, and what that would lead to: nothing is stored. */
export function carryPage(
  rows: CarryRows,
  { locale, years, asked }: { locale: string; years: number; asked: LinesAsked | null },
) {
  const before = seasonBefore(rows)
  const lines = linesOf(rows, asked)
  const name = (list: readonly { id: string; name: string }[], id: string) =>
    nameIfAny(list.find((one) => one.id === id))
  const shown = lines.map((line) => ({
    number: line.number,
    ticked: line.ticked,
    name: cropAndCultivar(line.planting),
    area: formatArea(line.planting.areaCm2, locale),
    stoodIn: name(rows.beds, line.planting.bedId),
    stoodFrom: formatDay(inBedFrom(line.planting), locale),
    day: line.day,
    noRoom: line.noRoom,
    garden: name(rows.gardens, line.bed.gardenId),
    gardenId: line.bed.gardenId,
    staysOn: line.staysOn,
    there: line.there ? name(rows.beds, line.there.bedId) : null,
    bed: line.beds.findIndex((one) => one.id === line.bed.id),
    beds: line.beds.map((one, value) => ({ value: String(value), label: one.name })),
  }))
  const stood = rows.plantings.filter((one) => one.seasonId === before?.id).length
  return {
    before: before?.name ?? null,
    already: rows.plantings.filter((one) => one.seasonId === rows.seasonId).length,
    without: stood - lines.length,
    lines: shown.length,
    gardens: rows.gardens.flatMap(({ id, name: called }) => {
      const own = shown.filter((line) => line.gardenId === id)
      return own.length > 0 ? [{ name: called, lines: own, ticked: own.filter((line) => line.ticked).length }] : []
    }),
    preview: asked === null ? null : previewOf(rows, lines, { locale, years }),
  }
}

/** What would be stored, and what of it has no room yet and is left for later. */
function previewOf(rows: CarryRows, lines: readonly CarryLine[], { locale, years }: { locale: string; years: number }) {
  const taken = lines.filter((line) => line.ticked && !line.noRoom)
  const would = taken.map((line) => ({
    line,
    planting: movedTo(line.planting, { bedId: line.bed.id, day: line.day, seasonId: rows.seasonId }),
  }))
  const returns = returnsSaid({ ...rows, plantings: [...rows.plantings, ...would.map((one) => one.planting)] }, years)
  const garden = (line: CarryLine) => nameIfAny(rows.gardens.find((one) => one.id === line.bed.gardenId))
  return {
    kept: taken.map((line) => `${line.planting.id}:${line.bed.id}:${line.day}`).join(','),
    lines: would.map(({ line, planting }) => ({
      name: cropAndCultivar(planting),
      area: formatArea(planting.areaCm2, locale),
      garden: garden(line),
      bed: line.bed.name,
      day: formatDay(line.day, locale),
      returns: returns.get(planting.id) ?? null,
    })),
    returning: would.filter((one) => returns.has(one.planting.id)).length,
    left: lines
      .filter((line) => line.noRoom)
      .map((line) => ({ name: cropAndCultivar(line.planting), garden: garden(line), bed: line.bed.name })),
  }
}
