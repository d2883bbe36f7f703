import type { InPages } from '../../lookups/in-pages.ts'
import { keysOf, recordOf } from '../../lookups/keys.ts'
import { asShown } from '../../lookups/unsaid.ts'
import { formatKilograms, formatNumber } from '../../quantities/formatting.ts'
import { weekOf } from '../../quantities/iso-week.ts'
import type { CountingRules } from '../matched/matched-season.ts'
import { cropName } from '../record/crop-name.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { weighedOf } from '../record/weighed-of.ts'
import { costForCrop, minutesForCrop } from '../totals/crop-measures.ts'
import { type MethodTotals, measureOf } from '../totals/figures.ts'
import type { MeasureRules } from '../totals/measures.ts'
import { sumOfParts } from '../totals/method-totals.ts'
import { isOfPlantings, type RowPart, type RowsBehind, type RowsWanted, rowsWanted } from './rows-behind.ts'
import { figureLines } from './rows-figures.ts'
import { mixShown, pairShown, steadyShown, unitsShown } from './rows-matched.page.ts'
import type { RowsScope } from './rows-scope.ts'
import { gardenName, minutesIn, spreadIn } from './rows-tables.ts'
import { exactArea, lineShown, type RowsWriting, writing } from './rows-writing.page.ts'
import { type PageAsked, pageOfSection } from './sections-in-pages.ts'

interface Asked {
  readonly scope: RowsScope
  readonly seasonIds: readonly string[]
  /** Every row, and which of them are kept. */
  readonly all: RowsBehind
  readonly kept: RowsWanted
  readonly rules: MeasureRules
  /** Set where another way of counting was asked for: then the rows say what they come to by these rules. */
  readonly counted: boolean
  readonly besideId: string | null
  readonly shown: PageAsked
  readonly matchedRules: CountingRules
  readonly locale: string
  readonly currency: string
}

/** The rows behind one method's figures, section by section, each with its sums and the figures that they make. */
export function rowsPage(asked: Asked) {
  const { scope, seasonIds, all, kept, locale } = asked
  const { record } = scope
  const rows = rowsWanted(all, kept)
  const write = writing(asked)
  const figures = figureLines(record, all, { ...asked, methodId: scope.id })
  return {
    waiting: waitingIn(record, seasonIds, locale),
    nothing: all.ground.length === 0,
    name: scope.name,
    place: scope.place,
    planting: plantingKept(record, kept, write),
    ground: groundShown(all, asked, write),
    plantings: plantingsShown(rows, asked, write),
    crops: cropsShown(rows, locale),
    hours: hoursShown(rows, asked, write),
    costs: costsShown(rows, asked, write),
    losses: lossesShown(rows, asked, write),
    weeks: weeksShown(all, asked, write),
    entries: entriesShown(all, asked, write),
    matched: mixShown(record, seasonIds, scope.id, locale),
    units: unitsShown(record, seasonIds, scope.id, locale),
    steady: steadyShown(record, seasonIds, scope.id, locale),
    pair: asked.besideId === null ? null : pairShown(asked.besideId, asked),
    figures: recordOf(keysOf(figures), (key) => figures[key].map((one) => lineShown(one, asked))),
  }
}

/** How many weighings wait under a label that is not opened yet, and are in no row; null where none does. */
function waitingIn(record: TrialRecord, seasonIds: readonly string[], locale: string): string | null {
  const here = record.seasons.filter((season) => seasonIds.includes(season.id))
  const count = here.reduce((sum, season) => sum + season.sealed, 0)
  return count === 0 ? null : formatNumber(count, locale, 0)
}

const sumOf = (rows: readonly RowPart[]): MethodTotals => sumOfParts(rows.map((row) => row.part))

/** The rows of a page as they are written, with where they lie among all. */
const written = <T, W>(page: InPages<T>, write: (row: T) => W) => ({ ...page, rows: page.rows.map(write) })

/** The planting to which the rows are narrowed; null where they are not. */
function plantingKept(record: TrialRecord, kept: RowsWanted, write: RowsWriting): string | null {
  const found = record.plantings.find((one) => one.id === kept.planting)
  return found === undefined ? null : `${cropName(found)} · ${write.bed(found.bedId)}`
}

function groundShown({ ground }: RowsBehind, { shown }: Asked, write: RowsWriting) {
  const sum = sumOf(ground)
  return {
    ...written(pageOfSection(ground, 'ground', shown), ({ seasonId, bed, part }) => ({
      garden: gardenName(write.record, bed.gardenId),
      gardenId: bed.gardenId,
      bed: bed.name ?? bed.id,
      id: bed.id,
      season: write.season(seasonId),
      area: write.area(part.bedAreaCm2),
      gross: write.area(part.grossAreaCm2),
    })),
    sum: { area: write.area(sum.bedAreaCm2), gross: write.area(sum.grossAreaCm2) },
  }
}

/** More weighings are not listed on one page: a planting's own has them. */
const mostWeighings = 300

function plantingsShown({ plantings }: RowsBehind, asked: Asked, write: RowsWriting) {
  const here = pageOfSection(plantings, 'plantings', asked.shown)
  const count = here.rows.reduce((sum, { planting }) => sum + weighedOf(planting).length, 0)
  const isListed = count <= mostWeighings || asked.kept.planting !== undefined
  const measured = (part: MethodTotals) => ({
    area: write.area(part.plantedAreaCm2),
    good: write.kg(part.marketableG),
    bad: write.kg(part.unmarketableG),
    lost: write.area(part.lostAreaPermille / 1000),
  })
  return {
    ...written(here, ({ seasonId, planting, part, matched }) => ({
      id: planting.id,
      crop: cropName(planting),
      place: write.bed(planting.bedId),
      season: write.season(seasonId),
      counted: planting.counted ?? null,
      whole: planting.wholeCm2 === undefined ? '' : write.area(planting.wholeCm2),
      ...measured(part),
      seasonId,
      standing: part.standing > 0,
      matched,
      weighings: weighedOf(planting).length,
      weighed: (isListed ? [...weighedOf(planting)] : [])
        .sort((a, b) => ((a.on ?? a.isoWeek) < (b.on ?? b.isoWeek) ? -1 : 1))
        .map((one) => ({
          id: asShown(one.id),
          week: one.isoWeek,
          day: one.on ? write.day(one.on) : '',
          shared: one.shared ?? false,
          good: write.kg(one.marketableG),
          bad: one.unmarketableG > 0 ? write.kg(one.unmarketableG) : '',
        })),
    })),
    sum: { ...measured(sumOf(plantings)), count: plantings.length },
    matched: measured(sumOf(plantings.filter((row) => row.matched))),
    anyMatched: plantings.some((row) => row.matched),
  }
}

/** The same plantings, crop by crop in the order of their names. */
function cropsShown({ plantings }: RowsBehind, locale: string) {
  const names = [...new Set(plantings.map((row) => cropName(row.planting)))].sort((a, b) => (a < b ? -1 : 1))
  const all = sumOf(plantings).plantedAreaCm2
  return names.map((crop) => {
    const { plantedAreaCm2, marketableG } = sumOf(plantings.filter((row) => cropName(row.planting) === crop))
    return {
      crop,
      area: exactArea(plantedAreaCm2, locale),
      good: formatKilograms(marketableG, locale),
      share: `${formatNumber((100 * plantedAreaCm2) / all, locale, 1)} %`,
      kgPerM2: formatNumber((10 * marketableG) / plantedAreaCm2, locale, 2),
    }
  })
}

function hoursShown({ hours }: RowsBehind, { rules, kept, shown }: Asked, write: RowsWriting) {
  const countedOf = (row: RowsBehind['hours'][number]) =>
    isOfPlantings(kept)
      ? countedFor(minutesForCrop(row.entry, rules))
      : measureOf(row.part, 'hoursPerArea', rules).numerator
  const sum = sumOf(hours)
  const inOrder = [...hours].sort((a, b) => (asShown(a.entry.isoWeek) < asShown(b.entry.isoWeek) ? -1 : 1))
  const minutes = minutesIn({ part: sum })
  return {
    ...written(pageOfSection(inOrder, 'hours', shown), (row) => ({
      id: asShown(row.entry.id),
      week: asShown(row.entry.isoWeek),
      task: row.entry.task,
      phase: row.entry.phase,
      day: row.entry.workedOn ? write.day(row.entry.workedOn) : '',
      place: write.place(row.entry),
      earlier: write.earlier(row.entry.seasonId, row.seasonId),
      season: write.season(row.seasonId),
      written: write.whole(row.entry.sharedMinutes ?? row.entry.personMinutes),
      shared: row.entry.ofNursery ? 'nursery' : row.entry.sharedMinutes === undefined ? null : 'garden',
      part: write.whole(minutesIn(row)),
      spread: write.whole(spreadIn(row)),
      counted: write.whole(countedOf(row)),
    })),
    establishing: hours.some((row) => row.entry.phase === 'establishing'),
    sum: {
      part: write.whole(minutes),
      hours: write.hours(minutes),
      spread: write.whole(spreadIn({ part: sum })),
      ground: write.whole(sum.minutesWithoutHarvest),
      harvest: write.whole(sum.minutesOfHarvest),
      counted: write.whole(hours.reduce((all, row) => all + countedOf(row), 0)),
    },
  }
}

function costsShown({ costs }: RowsBehind, { rules, kept, shown }: Asked, write: RowsWriting) {
  const countedOf = (row: RowsBehind['costs'][number]) =>
    isOfPlantings(kept)
      ? countedFor(costForCrop(row.spreading, rules))
      : measureOf(row.part, 'costPerArea', rules).numerator
  const sum = sumOf(costs)
  const inOrder = [...costs].sort((a, b) => (asShown(a.spreading.on) < asShown(b.spreading.on) ? -1 : 1))
  return {
    ...written(pageOfSection(inOrder, 'costs', shown), (row) => {
      const { spreading: one, part, seasonId } = row
      return {
        id: asShown(one.id),
        day: one.on ? write.day(one.on) : '',
        input: asShown(one.input),
        place: write.place(one),
        week: one.on ? weekOf(one.on) : '',
        earlier: write.earlier(one.seasonId, seasonId),
        season: write.season(seasonId),
        cost: one.costMinor === null ? null : write.money(one.costMinor),
        life: one.usefulLifeSeasons,
        ofNursery: one.ofNursery === true,
        paid: write.money(part.cashMinor),
        valued: write.money(part.costMinor),
        spread: write.money(part.cashSpread),
        counted: write.money(countedOf(row)),
      }
    }),
    establishing: costs.some(({ spreading: { phase } }) => phase === 'establishing' || phase === null),
    valued: sum.costMinor !== sum.cashMinor,
    unpriced: sum.unpriced,
    sum: {
      paid: write.money(sum.cashMinor),
      valued: write.money(sum.costMinor),
      spread: write.money(sum.cashSpread),
      counted: write.money(costs.reduce((all, row) => all + countedOf(row), 0)),
    },
  }
}

function lossesShown({ losses }: RowsBehind, { shown }: Asked, write: RowsWriting) {
  const area = losses.reduce((sum, one) => sum + one.areaPermille, 0)
  return {
    ...written(pageOfSection(losses, 'losses', shown), ({ seasonId, planting, loss, areaPermille }) => ({
      id: asShown(loss.id),
      planting: cropName(planting),
      place: write.bed(planting.bedId),
      season: write.season(seasonId),
      week: weekOf(loss.lostOn),
      day: write.day(loss.lostOn),
      cause: loss.cause ?? 'unknown',
      outside: loss.outsideMethod ?? false,
      share: write.percent(loss.sharePermille),
      area: write.area(areaPermille / 1000),
    })),
    sum: write.area(area / 1000),
  }
}

function weeksShown({ weeks }: RowsBehind, { shown }: Asked, write: RowsWriting) {
  const sum = sumOf(weeks)
  return {
    ...written(pageOfSection(weeks, 'weeks', shown), ({ gardenId, isoWeek, part }) => ({
      garden: gardenName(write.record, gardenId),
      week: isoWeek,
      hours: part.hoursClosed > 0,
      weights: part.weightsClosed > 0,
    })),
    sum: { hours: sum.hoursClosed, weights: sum.weightsClosed, all: sum.weeks },
  }
}

/** Only those read off paper or written late: the others stand with the hours and the weights. */
function entriesShown({ entries }: RowsBehind, { shown }: Asked, write: RowsWriting) {
  const sum = sumOf(entries)
  const told = entries.filter(({ entry }) => entry.paper || entry.late)
  return {
    ...written(pageOfSection(told, 'entries', shown), ({ entry }) => ({
      id: asShown(entry.id),
      of: entry.of ?? 'hours',
      week: asShown(entry.isoWeek),
      paper: entry.paper,
      late: entry.late,
      day: entry.on ? write.day(entry.on) : '',
      written: entry.written ? write.day(entry.written) : '',
    })),
    sum: { paper: sum.entriesFromPaper, late: sum.entriesLate, all: sum.entries },
  }
}

// What no crop is asked for counts toward none.
const countedFor = (amount: number | null) => amount ?? 0
