import { type BarRow, drawBarLedger } from '../../drawing/bar-ledger.ts'
import { type CoursePoint, drawCourse } from '../../drawing/course.ts'
import { drawStackedSteps, type StackedSteps } from '../../drawing/stacked-steps.ts'
import { firstOf, lastOf, nth } from '../../lookups/nth.ts'
import { dayNumber, type IsoDate } from '../../quantities/dates.ts'
import { formatDay, formatNumber } from '../../quantities/formatting.ts'
import { crossingWeek, runningTotals } from '../record/crossing-week.ts'
import { type TaskGroup, taskGroups } from '../totals/labour-by-week.ts'
import { type Picture, type PictureTold, pictureOf, wordsIn, writeIn } from './picture.ts'
import { dayTicks, weekTicks } from './time-ticks.ts'

export interface SeasonLabour {
  readonly method: string
  /** ISO weeks of the season, "2027-W05". */
  readonly weeks: readonly string[]
  /** One a week; null in a week whose hours are not closed. */
  readonly groups: readonly { readonly group: TaskGroup; readonly minutes: readonly (number | null)[] }[]
}

/** Labour of methods week by week, stacked by kind of work, all on the same scales; ids end in 1, 2, 3. */
export function labourPictures(labours: readonly SeasonLabour[], told: PictureTold): Picture[] {
  const beside = {
    step: Math.max(0, ...labours.flatMap(weekSums)) / 60,
    totals: labours.flatMap((labour) => usedGroups(labour).map((one) => totalOf(one, told.locale))),
  }
  return labours.map((labour, i) => labourPicture(labour, { ...told, id: `${told.id}-${i + 1}` }, beside))
}

/** Kinds of work that took no time are left out. */
function labourPicture(labour: SeasonLabour, told: PictureTold, beside: NonNullable<StackedSteps['beside']>): Picture {
  const words = wordsIn(told.locale)
  const w = words.labour
  const used = usedGroups(labour)
  const drawing = drawStackedSteps({
    groups: used.map((one) => ({
      ...totalOf(one, told.locale),
      values: one.minutes.map((minutes) => (minutes === null ? null : minutes / 60)),
    })),
    ticks: weekTicks(labour.weeks, told.locale),
    axis: w.axis,
    unknown: w.open,
    write: writeIn(told.locale),
    beside,
  })
  return pictureOf(told, {
    title: w.title(labour.method),
    how: w.how,
    drawing,
    head: [words.head.week, ...used.map((one) => w.groups[one.group])],
    rows: [
      ...labour.weeks.map((week, i) => [
        week,
        ...used.map(({ minutes }) => written(minutes[i] ?? null, told.locale, (one) => hoursIn(told.locale, one))),
      ]),
      [words.head.together, ...used.map((one) => hoursIn(told.locale, sumOf(one.minutes)))],
    ],
  })
}

type LabourOfGroup = SeasonLabour['groups'][number]

// Of what is known: an unknown one adds nothing, and is drawn as unknown.
const sumOf = (values: readonly (number | null)[]) => values.reduce<number>((sum, one) => sum + (one ?? 0), 0)

const weekSums = ({ weeks, groups }: SeasonLabour) =>
  // A group without an entry in a week wrote no minutes in it.
  weeks.map((_, i) => sumOf(groups.map((one) => one.minutes[i] ?? 0)))

/** One at least, since its weeks say what is not known. */
function usedGroups({ groups }: SeasonLabour): readonly LabourOfGroup[] {
  const used = groups.filter((one) => sumOf(one.minutes) > 0)
  return used.length > 0 ? used : groups.slice(0, 1)
}

function totalOf({ group, minutes }: LabourOfGroup, locale: string) {
  const total = sumOf(minutes)
  const w = wordsIn(locale).labour
  return {
    label: w.groups[group],
    figure: w.hours(hoursIn(locale, total)),
    value: total / 60,
    fill: fillOf(group),
  }
}

const hoursIn = (locale: string, minutes: number) => formatNumber(minutes / 60, locale, 1)

/** The same kind of work looks the same in every picture. */
const fillOf = (group: TaskGroup) => 1 + Object.keys(taskGroups).indexOf(group)

export interface LabourOfMethods {
  readonly weeks: readonly string[]
  /**
   * Hours a week, or hours a week per m2 of bed; null in a week whose hours are not closed. The first is the reference.
   */
  readonly methods: readonly { readonly method: string; readonly hours: readonly (number | null)[] }[]
  readonly perArea: boolean
}

/**
 * The hours so far of two methods or more, and the week from which on the order beside the first is the other way
 * round.
 */
export function runningLabourPicture({ weeks, methods, perArea }: LabourOfMethods, told: PictureTold): Picture {
  const words = wordsIn(told.locale)
  const w = words.running
  const totals = methods.map(({ hours }) => runningTotals(hours))
  const [first] = methods
  const others = methods.slice(1).map((other) => ({ other, turn: crossingWeek(first?.hours ?? [], other.hours) }))
  const notes = others.flatMap(({ other, turn: { week, totals: at, times } }) => {
    if (week === null || !first || !at) return []
    const [lower, higher] = at[0] < at[1] ? [first, other] : [other, first]
    return [{ x: week, text: w.crossing(lower.method, higher.method, nth(weeks, week), times) }]
  })
  const known = Math.min(weeks.length, ...others.map(({ turn }) => turn.weeksKnown))
  const drawing = drawCourse({
    series: methods.map(({ method }, i) => ({
      label: method,
      points: (totals[i] ?? []).map(({ total, sure }, x): CoursePoint => ({ x, y: total, sure })),
    })),
    ticks: weekTicks(weeks, told.locale),
    axis: w.axis(perArea),
    write: writeIn(told.locale),
    fromZero: true,
    notes,
  })
  const figure = (value: number) => formatNumber(value, told.locale, perArea ? 2 : 1)
  return pictureOf(told, {
    title: w.title,
    how: notes.length > 0 ? w.how : `${w.how} ${w.noCrossing(known, weeks.length)}`,
    drawing,
    head: [words.head.week, ...methods.map((one) => one.method)],
    rows: weeks.map((week, i) => [week, ...totals.map((of) => written(of[i]?.total ?? null, told.locale, figure))]),
  })
}

export interface LossesByCause {
  /** Square metres, or how many. */
  readonly in: 'area' | 'count'
  readonly methods: readonly string[]
  /** One value a method in their order; null is not known, 0 is none. */
  readonly causes: readonly { readonly cause: string; readonly values: readonly (number | null)[] }[]
}

/** The cause that took most stands first. */
export function lossesPicture({ in: unit, methods, causes: unordered }: LossesByCause, told: PictureTold): Picture {
  const words = wordsIn(told.locale)
  const w = words.losses
  const taken = (one: LossesByCause['causes'][number]) => sumOf(one.values)
  const causes = [...unordered].sort((a, b) => taken(b) - taken(a))
  const figure = (value: number) =>
    unit === 'area' ? w.area(formatNumber(value, told.locale, 1)) : formatNumber(value, told.locale, 0)
  const rows = (values: readonly (number | null)[]) =>
    methods.map((label, i): BarRow => {
      const value = values[i] ?? null
      return { label, value, figure: written(value, told.locale, figure) }
    })
  return pictureOf(told, {
    title: w.title,
    how: w.how,
    drawing: drawBarLedger({ groups: causes.map(({ cause, values }) => ({ heading: cause, rows: rows(values) })) }),
    head: [words.head.cause, ...methods],
    rows: causes.map(({ cause, values }) => [cause, ...rows(values).map((row) => row.figure)]),
  })
}

interface SoilCourse {
  readonly analyte: string
  readonly unit: string
  /** By garden or bed; a test without a result is null and breaks the line. */
  readonly series: readonly {
    readonly where: string
    readonly tests: readonly { readonly day: IsoDate; readonly value: number | null }[]
  }[]
  readonly decimals: number
}

export function soilPicture({ analyte, unit, series, decimals }: SoilCourse, told: PictureTold): Picture {
  const words = wordsIn(told.locale)
  const w = words.soil
  const days = [...new Set(series.flatMap(({ tests }) => tests.map((test) => test.day)))].sort()
  const ticks = days.length === 0 ? [] : dayTicks(firstOf(days), lastOf(days), told.locale)
  const drawing = drawCourse({
    series: series.map(({ where, tests }) => ({
      label: where,
      points: [...tests]
        .sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0))
        .map(({ day, value }) => ({ x: dayNumber(day), y: value })),
    })),
    ticks,
    axis: unit === '' ? analyte : `${analyte}, ${unit}`,
    write: writeIn(told.locale),
    pegs: true,
  })
  const at = (tests: SoilCourse['series'][number]['tests'], day: string) => tests.find((test) => test.day === day)
  const cell = (test: { value: number | null } | undefined) =>
    test ? written(test.value, told.locale, (value) => formatNumber(value, told.locale, decimals)) : '–'
  return pictureOf(told, {
    title: w.title(analyte),
    how: w.how,
    drawing,
    head: [words.head.day, ...series.map((one) => one.where)],
    rows: days.map((day) => [formatDay(day, told.locale), ...series.map(({ tests }) => cell(at(tests, day)))]),
  })
}

const written = (value: number | null, locale: string, as: (value: number) => string) =>
  value === null ? wordsIn(locale).unknown : as(value)
