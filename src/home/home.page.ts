import { closedWeeks } from '../comparison/record/closed-weeks.ts'
import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { weighedOf } from '../comparison/record/weighed-of.ts'
import { secondWeeksOf } from '../diary/second-weeks.ts'
import { asShown, linked } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatDay, formatHours, formatKilograms } from '../quantities/formatting.ts'
import { type IsoWeek, weekAfter, weekNumber, weekOf, weeksBetween } from '../quantities/iso-week.ts'
import { type GardenCourse, kilogramsPage } from './kilograms.page.ts'
import { gardenWeeks, type LastWritten, missingTwins, runningGrams } from './season-so-far.ts'
import { nextStep } from './setting-up.page.ts'

export interface HomeRows {
  readonly today: IsoDate
  readonly record: TrialRecord
  readonly methods: readonly { readonly id: string; readonly name: string; readonly workingRules: string }[]
  readonly deliveries: readonly {
    readonly id: string
    readonly inputName: string
    readonly orderedOn: IsoDate | null
    readonly deliveredOn: IsoDate | null
  }[]
  readonly due: readonly { readonly id: string; readonly decision: string; readonly lookAgainOn: IsoDate | null }[]
  readonly questions: readonly { readonly seasonId: string; readonly lockedAt: Date | null }[]
  readonly last: readonly LastWritten[]
  readonly names: ReadonlyMap<string, string>
}

/** One thing that waits for somebody, and where it is done: codes and figures, said in the view. */
type Waiting =
  | {
      readonly code: 'weights' | 'hours' | 'weights and hours'
      /** Null where it is all of them. */
      readonly gardens: string | null
      readonly week: string
      readonly href: string
    }
  | {
      readonly code: 'twin'
      readonly crop: string
      readonly week: string
      readonly picked: number
      readonly gardens: string
      readonly href: string
    }
  | { readonly code: 'second week'; readonly week: string; readonly href: string }
  | { readonly code: 'delivery'; readonly input: string; readonly day: string; readonly href: string }
  | { readonly code: 'decision'; readonly decision: string; readonly day: string; readonly href: string }
  | { readonly code: 'older weeks'; readonly count: number; readonly href: string }
  | { readonly code: 'rules'; readonly method: string; readonly href: string }
  | { readonly code: 'question' | 'layout'; readonly season: string; readonly href: string }

const mostWaiting = 6

/** What a person sees who comes in: this week, what waits, the season so far, what was written last. */
export function homePage(rows: HomeRows, base: string, locale: string) {
  const { record, today } = rows
  const season = currentSeason(rows)
  const week = weekOf(today)
  // Who has something written down, or decided, is past setting up.
  const written = record.plantings.some((one) => weighedOf(one).length > 0) || record.labour.length > 0
  const begun = written || rows.due.length > 0
  return {
    season: season?.name ?? null,
    week: weekNumber(week),
    weekHref: `${base}/weeks/${week}`,
    /** Before the first entry the next step of setting up takes the place of all else. */
    next: begun ? null : { step: nextStep(record), href: `${base}/setting-up` },
    ...(season ? thisWeek(rows, season, { base, locale, week }) : { gardens: [], runs: false }),
    waiting: season ? waitingFor(rows, season, { base, locale }) : [],
    kilograms: season ? courses(rows, season, locale) : [],
    before: seasonBefore(record, season)?.name ?? null,
    months: season ? { from: monthOf(season.startsOn, locale), to: monthOf(season.endsOn, locale) } : null,
    last: rows.last.map((one) => ({
      kind: one.kind,
      href: `${base}/correct/${one.kind}/${one.id}`,
      day: formatDay(one.at.toISOString().slice(0, 10), locale),
      task: one.task,
      place: linked(rows.names, one.plantingId ?? one.gardenId) ?? null,
      amount: amountOf(one, locale),
    })),
  }
}

type Season = TrialRecord['seasons'][number]

/** The season of today, or the latest that is not closed, or the latest. */
function currentSeason({ record, today }: HomeRows): Season | undefined {
  return (
    record.seasons.find((one) => one.startsOn <= today && today <= one.endsOn) ??
    record.seasons.findLast((one) => !one.closed) ??
    record.seasons.at(-1)
  )
}

const seasonBefore = ({ seasons }: TrialRecord, season: Season | undefined): Season | undefined =>
  seasons[seasons.findIndex((one) => one.id === season?.id) - 1]

interface Where {
  readonly base: string
  readonly locale: string
}

/** By garden: what is written this week and whether it is closed. Nothing written is nothing, never 0. */
function thisWeek(rows: HomeRows, season: Season, { base, locale, week }: Where & { week: IsoWeek }) {
  const { record, today } = rows
  const gardens = assignedGardens(record, season).map((garden) => {
    const own = gardenWeeks(record, season.id).find((one) => one.gardenId === garden.id)
    const grams = own?.grams.get(week)
    const minutes = own?.minutes.get(week)
    return {
      garden: garden.name,
      weights: grams === undefined ? null : formatKilograms(grams, locale),
      hours: minutes === undefined ? null : formatHours(minutes, locale),
      weightsClosed: closedWeeks(record, garden.id, 'weights').has(week),
      hoursClosed: closedWeeks(record, garden.id, 'hours').has(week),
      href: `${base}/weeks/${week}`,
    }
  })
  return { gardens, runs: season.startsOn <= today && today <= season.endsOn }
}

function assignedGardens(record: TrialRecord, season: Season) {
  const ids = new Set(record.assignments.flatMap((one) => (one.seasonId === season.id ? [one.gardenId] : [])))
  return record.gardens.filter((garden) => ids.has(garden.id))
}

function waitingFor(rows: HomeRows, season: Season, where: Where): Waiting[] {
  const { record, today, deliveries, due, methods, questions } = rows
  const { base, locale } = where
  const week = weekOf(today)
  const bare = methods.find((one) => one.workingRules === '')
  const asked = questions.some((one) => one.seasonId === season.id && one.lockedAt !== null)
  const ahead = today < season.startsOn
  return [
    ...missingTwins(record, season.id, [week, weekAfter(week, -1)]).map(
      (one): Waiting => ({
        code: 'twin',
        crop: one.crop,
        week: weekNumber(one.week),
        picked: one.picked,
        gardens: one.missing.join(', '),
        href: `${base}/weeks/${one.week}#weights`,
      }),
    ),
    ...openWeeks(rows, season, base),
    ...(secondWeeksOf(season).includes(week)
      ? [{ code: 'second week' as const, week: weekNumber(week), href: `${base}/weeks/${week}#weights` }]
      : []),
    ...due.map(
      (one): Waiting => ({
        code: 'decision',
        decision: one.decision,
        day: formatDay(asShown(one.lookAgainOn), locale),
        href: `${base}/decisions#decision-${one.id}`,
      }),
    ),
    ...deliveries.flatMap((one): Waiting[] =>
      one.deliveredOn === null && one.orderedOn !== null
        ? [{ code: 'delivery', input: one.inputName, day: formatDay(one.orderedOn, locale), href: `${base}/inputs` }]
        : [],
    ),
    ...(ahead && !asked
      ? [{ code: 'question' as const, season: season.name, href: `${base}/seasons/${season.id}/question` }]
      : []),
    ...(bare ? [{ code: 'rules' as const, method: bare.name, href: `${base}/correct/methods/${bare.id}` }] : []),
  ].slice(0, mostWaiting)
}

interface OpenWeek {
  readonly week: IsoWeek
  readonly what: 'weights' | 'hours' | 'weights and hours'
  readonly gardens: string | null
}

/** The latest two weeks that are over and open somewhere, by what is open; of older ones how many there are. */
function openWeeks({ record, today }: HomeRows, season: Season, base: string): Waiting[] {
  const last = today < season.endsOn ? today : season.endsOn
  if (last < season.startsOn) return []
  const gardens = assignedGardens(record, season)
  const over = weeksBetween(season.startsOn, last).filter((week) => week < weekOf(today))
  const missing = (week: IsoWeek, what: 'weights' | 'hours') => {
    const open = gardens.filter((garden) => !closedWeeks(record, garden.id, what).has(week))
    const isAll = open.length === gardens.length && gardens.length > 2
    return isAll ? null : open.map((one) => one.name).join(', ')
  }
  const open = over.flatMap((week): OpenWeek[] => {
    const [weights, hours] = [missing(week, 'weights'), missing(week, 'hours')]
    if (weights !== '' && weights === hours) return [{ week, what: 'weights and hours', gardens: weights }]
    return [
      ...(weights === '' ? [] : [{ week, what: 'weights' as const, gardens: weights }]),
      ...(hours === '' ? [] : [{ week, what: 'hours' as const, gardens: hours }]),
    ]
  })
  const weeks = [...new Set(open.map((one) => one.week))]
  const [shown, older] = [weeks.slice(-2), weeks.slice(0, -2)]
  const lines = open.filter((one) => shown.includes(one.week)).reverse()
  return [
    ...lines.map(
      (one): Waiting => ({
        code: one.what,
        gardens: one.gardens,
        week: weekNumber(one.week),
        href: `${base}/weeks/${one.week}#${one.what === 'hours' ? 'hours' : 'weights'}`,
      }),
    ),
    ...(older.length > 0
      ? [{ code: 'older weeks' as const, count: older.length, href: `${base}/weeks/${older.at(-1)}` }]
      : []),
  ]
}

function courses({ record, today }: HomeRows, season: Season, locale: string) {
  const before = seasonBefore(record, season)
  const [now, earlier] = [gardenWeeks(record, season.id), before ? gardenWeeks(record, before.id) : []]
  const gramsIn = (of: typeof now, id: string) => of.find((one) => one.gardenId === id)?.grams ?? new Map()
  const own = assignedGardens(record, season).map(
    (garden): GardenCourse => ({
      garden: garden.name,
      now: runningGrams(gramsIn(now, garden.id), season, today),
      before: before ? runningGrams(gramsIn(earlier, garden.id), before, before.endsOn) : [],
    }),
  )
  // A course without a week has come to nothing.
  if (own.every((one) => (one.now.at(-1) ?? 0) + (one.before.at(-1) ?? 0) === 0)) return []
  const weeks = weeksBetween(season.startsOn, season.endsOn).length
  return kilogramsPage(own, weeks, locale)
}

const monthOf = (day: string, locale: string) =>
  new Intl.DateTimeFormat(locale, { month: 'short', timeZone: 'UTC' }).format(new Date(`${day}T00:00:00Z`))

function amountOf({ kind, amount }: LastWritten, locale: string): string | null {
  if (amount === null) return null
  return kind === 'harvests' ? formatKilograms(amount, locale) : formatHours(amount, locale)
}
