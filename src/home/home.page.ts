import { secondWeeksOf } from '../diary/second-weeks.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { type IsoWeek, weekOf, weeksBetween } from '../quantities/iso-week.ts'

export interface HomeRows {
  readonly today: IsoDate
  readonly sites: readonly { id: string }[]
  readonly methods: readonly { id: string; name: string; workingRules: string }[]
  readonly gardens: readonly { id: string; name: string }[]
  readonly beds: readonly { id: string; gardenId: string }[]
  readonly seasons: readonly { id: string; name: string; startsOn: string; endsOn: string; closedAt: Date | null }[]
  readonly assignments: readonly { seasonId: string; gardenId: string; bedId: string | null }[]
  readonly plantings: readonly { seasonId: string; matchedSetId: string | null }[]
  readonly closings: readonly { gardenId: string; isoWeek: string; what: string }[]
  readonly people: number
}

export type StepCode =
  | 'site'
  | 'methods'
  | 'rules'
  | 'gardens'
  | 'beds'
  | 'season'
  | 'assignments'
  | 'plantings'
  | 'matched'
  | 'question'
  | 'people'

/** One thing that the first hour asks for: whether it is there, and where it is done. */
export interface Step {
  readonly code: StepCode
  readonly done: boolean
  readonly href: string
  /** The first weeks can be written down without it. */
  readonly canWait?: boolean
}

/** The path from an empty group to the first week, and what is open in the weeks that are over. */
export function homePage(rows: HomeRows, base: string, questions: readonly { seasonId: string }[]) {
  const season = currentSeason(rows)
  const of = season ? `${base}/seasons/${season.id}` : `${base}/seasons`
  const assigned = new Set(rows.assignments.filter((one) => one.seasonId === season?.id).map((one) => one.gardenId))
  const planted = rows.plantings.filter((one) => one.seasonId === season?.id)
  const steps: Step[] = [
    { code: 'site', done: rows.sites.length > 0, href: adding(base, 'sites') },
    methodsStep(rows, base),
    { code: 'gardens', done: rows.gardens.length > 1, href: adding(base, 'gardens') },
    { code: 'beds', done: allHaveBeds(rows), href: adding(base, 'beds') },
    { code: 'season', done: season !== undefined, href: `${base}/seasons` },
    {
      code: 'assignments',
      done: rows.gardens.length > 0 && rows.gardens.every((one) => assigned.has(one.id)),
      href: season ? `${of}/layout` : of,
    },
    { code: 'plantings', done: planted.length > 0, href: `${of}?form=plantings#add-plantings` },
    {
      code: 'matched',
      done: planted.some((one) => one.matchedSetId !== null),
      href: `${of}?form=plantings#add-plantings`,
    },
    {
      code: 'question',
      done: questions.some((one) => one.seasonId === season?.id),
      href: season ? `${of}/question` : `${base}/seasons`,
      canWait: true,
    },
    { code: 'people', done: rows.people > 1, href: `${base}/people`, canWait: true },
  ]
  return {
    steps,
    next: steps.find((step) => !step.done) ?? null,
    openWeeks: season ? openWeeks(rows, season, assigned).map((week) => ({ week, href: `${base}/weeks/${week}` })) : [],
    season: season?.name ?? null,
    /** This week, where it is one of the two in which a second person writes weights down too. */
    secondWeek: rows.seasons.some((one) => secondWeeksOf(one).includes(weekOf(rows.today)))
      ? { week: weekOf(rows.today), href: `${base}/weeks/${weekOf(rows.today)}#weights` }
      : null,
  }
}

/** Two methods without their rules are not two more methods to add, but rules to write. */
function methodsStep({ methods }: HomeRows, base: string): Step {
  const bare = methods.find((one) => one.workingRules === '')
  const done = methods.filter((one) => one.workingRules !== '').length > 1
  if (done || methods.length < 2 || !bare) return { code: 'methods', done, href: adding(base, 'methods') }
  return { code: 'rules', done, href: `${base}/correct/methods/${bare.id}` }
}

/** The page with the form for it open. */
const adding = (base: string, form: string) => `${base}/gardens?form=${form}#add-${form}`

/** The season of today, or the latest that is not closed, or the latest. */
function currentSeason({ seasons, today }: HomeRows) {
  return (
    seasons.find((one) => one.startsOn <= today && today <= one.endsOn) ??
    seasons.findLast((one) => one.closedAt === null) ??
    seasons.at(-1)
  )
}

const allHaveBeds = ({ gardens, beds }: HomeRows) =>
  gardens.length > 0 && gardens.every((garden) => beds.some((bed) => bed.gardenId === garden.id))

/** The latest eight weeks of the season that are over and have hours or weights open somewhere. */
function openWeeks(
  rows: HomeRows,
  season: { startsOn: string; endsOn: string },
  gardens: ReadonlySet<string>,
): IsoWeek[] {
  const last = [rows.today, season.endsOn].sort()[0] ?? rows.today
  if (last < season.startsOn) return []
  const over = weeksBetween(season.startsOn as IsoDate, last as IsoDate).filter((week) => week !== weekOf(rows.today))
  const closed = new Set(rows.closings.map((one) => `${one.gardenId} ${one.isoWeek} ${one.what}`))
  const open = over.filter((week) =>
    [...gardens].some((garden) => ['hours', 'weights'].some((what) => !closed.has(`${garden} ${week} ${what}`))),
  )
  return open.slice(-8)
}
