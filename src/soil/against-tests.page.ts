import { drawCourse } from '../drawing/course.ts'
import { theOne } from '../lookups/held.ts'
import { firstOf, lastOf } from '../lookups/nth.ts'
import { addDays, daysBetween, type IsoDate } from '../quantities/dates.ts'
import { formatDay, formatNumber } from '../quantities/formatting.ts'
import { withSign } from '../quantities/printed-limits.ts'
import { catalogue } from '../words/catalogue.ts'
import { dressingWays, type HeldAgainst, heldAgainstTests, type TestsAndFlows } from './against-tests.ts'
import { bandOf, bandsFrom } from './bands.ts'
import { errorOfValue } from './laboratory-error.ts'
import { type GardenLedger, type LedgerRows, ledgerOf } from './ledger.ts'
import { takenBy } from './nutrients.ts'
import { type Measured, type Series, sameName, seriesOf } from './series-of.ts'

const words = catalogue.againstTests

interface TestRow extends Measured {
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly sampledOn: IsoDate
  readonly value: string
  readonly beyond: string | null
  readonly standardError: string | null
  readonly standardErrorOf: string | null
  readonly bands: unknown
}

interface Dated {
  readonly id: string
  readonly name: string
  readonly endsOn: IsoDate
}

interface AgainstRows extends Omit<LedgerRows, 'seasons' | 'gardens' | 'spreadings' | 'picked'> {
  readonly gardens: readonly { readonly id: string; readonly name: string }[]
  readonly seasons: readonly Dated[]
  readonly spreadings: readonly (LedgerRows['spreadings'][number] & { readonly appliedOn: IsoDate })[]
  readonly picked: readonly (LedgerRows['picked'][number] & { readonly on: IsoDate })[]
  readonly tests: readonly TestRow[]
}

interface AgainstTerms {
  readonly gardenId: string
  readonly bulkDensity: number
  readonly laboratoryError: number
  readonly seasons: number
  readonly today: IsoDate
  readonly locale: string
}

const daysOfYear = 365.25

const kept = ['phosphorus', 'potassium'] as const
type Kept = (typeof kept)[number]
const symbolOf: Readonly<Record<Kept, string>> = { phosphorus: 'P', potassium: 'K' }

/** The gardens that have a test of P or K of their own, in the order of their walk. */
export const gardensTested = ({ gardens, tests }: Pick<AgainstRows, 'gardens' | 'tests'>) =>
  gardens.filter(({ id }) => kept.some((nutrient) => longestSeries(ofGarden(tests, id), nutrient) !== null))

const ofGarden = (tests: readonly TestRow[], id: string) =>
  tests.filter((one) => one.gardenId === id && one.bedId === null)

/** P and K of one garden: what the ledger says beside what its tests say, and where both go on if they agree. */
export function againstPage(rows: AgainstRows, terms: AgainstTerms) {
  const { gardenId, locale } = terms
  const tests = ofGarden(rows.tests, gardenId)
  const own = theOne(rows.gardens, ({ id }) => id === gardenId)
  const [ledger, garden] = [firstOf(ledgerOf({ ...rows, gardens: [own] })), own.name]
  const parts = kept.flatMap((nutrient) => {
    const series = longestSeries(tests, nutrient)
    return series === null ? [] : [partOf(nutrient, series, { rows, ledger, terms, garden })]
  })
  return {
    garden,
    answer: firstOf(parts).sentence,
    more: parts.slice(1).map((one) => one.sentence),
    sure: parts.flatMap((one) => one.sure),
    pictures: parts.flatMap((one) => (one.picture === null ? [] : [one.picture])),
    figures: parts.map(({ nutrient, held, found }) => ({ nutrient, held, found })),
    beside: besideTable(tests, locale),
  }
}

/** Of several extractants the one with most days, the later where two have as many; limits ("<5") are no numbers. */
function longestSeries(tests: readonly TestRow[], nutrient: Kept): Series<TestRow> | null {
  const own = tests.filter(
    (one) => one.beyond === null && (sameName(one.analyte, symbolOf[nutrient]) || sameName(one.analyte, nutrient)),
  )
  const last = (series: Series<TestRow>) => lastOf(series.tests).sampledOn
  return seriesOf(own).toSorted((a, b) => b.tests.length - a.tests.length || (last(a) < last(b) ? 1 : -1))[0] ?? null
}

interface Of {
  readonly rows: AgainstRows
  readonly ledger: GardenLedger
  readonly terms: AgainstTerms
  readonly garden: string
}

function partOf(nutrient: Kept, series: Series<TestRow>, { rows, ledger, terms, garden }: Of) {
  const number = (value: number) => formatNumber(value, terms.locale, Math.abs(value) < 10 ? 1 : 0)
  const held = heldOf(nutrient, series, { rows, ledger, terms })
  const [first, last] = [firstOf(held.tests), lastOf(held.tests)]
  const name = words.nutrients[nutrient]
  const found = heldAgainstTests(held)
  const said = {
    name,
    garden,
    unit: series.unit,
    from: number(first.value),
    to: number(last.value),
  }
  if (found.kind === 'refused')
    return { nutrient, held, found, sentence: words.refused[reasonOf(found.reason)](said), sure: [], picture: null }
  const sum = number(lastOf(found.ifAllStayed).expected)
  const { projected } = found
  const sentence =
    projected === null
      ? words.disagree[found.disagree ?? 'apart']({ ...said, sum })
      : words.agree({ ...said, seasons: terms.seasons, ends: endsOf(projected, number) })
  const [own, far] = [[first, last].filter(({ error }) => error !== null).length, found.change]
  const opposite = found.disagree === null && far.tests * far.ledger < 0
  const sure = [
    words.held({ name, gap: number(Math.abs(found.gap)), allowed: number(found.allowed) }) +
      words.errors({ two: number(found.twoErrors), share: number(100 * terms.laboratoryError), told: own }),
    ...(opposite ? [words.withinErrors(name)] : []),
  ]
  const picture = pictureOf(nutrient, { held, found, terms, name, number, series })
  return { nutrient, held, found, sentence, sure, picture }
}

const reasonOf = (reason: string) =>
  reason === 'too few' ? 'tooFew' : reason === 'incomplete' ? 'unknown' : ('unit' as const)

const endsOf = (projected: NonNullable<HeldAgainst['projected']>, number: (value: number) => string) =>
  dressingWays.map((way) => words.end(words.ways[way], number(lastOf(projected[way])))).join(', ')

function heldOf(nutrient: Kept, series: Series<TestRow>, { rows, ledger, terms }: Omit<Of, 'garden'>): TestsAndFlows {
  const area = new Map(ledger.seasons.map(({ seasonId, bedAreaCm2 }) => [seasonId, bedAreaCm2]))
  const perM2 = (seasonId: string, mg: number | null) => {
    const cm2 = area.get(seasonId)
    return mg === null || cm2 === undefined ? null : (10_000 * mg) / cm2
  }
  const over = ledger.seasons.filter(
    ({ seasonId }) => theOne(rows.seasons, ({ id }) => id === seasonId).endsOn < terms.today,
  )
  const mean = (of: 'brought' | 'taken') =>
    over.length === 0
      ? 0
      : over.reduce((sum, one) => sum + (10_000 * one.nutrients[nutrient][of].knownMg) / one.bedAreaCm2, 0) /
        over.length
  const isHere = (one: { gardenId: string }) => one.gardenId === terms.gardenId
  return {
    tests: series.tests.map((one) => ({ day: one.sampledOn, value: Number(one.value), error: errorOfValue(one) })),
    flows: [
      ...rows.spreadings.filter(isHere).map((one) => ({
        day: one.appliedOn,
        mgPerM2: perM2(one.seasonId, one.carriedMg[nutrient]),
      })),
      ...rows.picked.filter(isHere).map((one) => {
        const mg = takenBy(one.grams, one)[nutrient]
        return { day: one.on, mgPerM2: perM2(one.seasonId, mg === null ? null : -mg) }
      }),
    ],
    broughtMgPerM2: mean('brought'),
    takenMgPerM2: mean('taken'),
    unit: series.unit,
    depthMm: series.depthMm === null ? 0 : series.depthMm,
    bulkDensity: terms.bulkDensity,
    laboratoryError: terms.laboratoryError,
    seasons: terms.seasons,
  }
}

interface Pictured {
  readonly held: TestsAndFlows
  readonly found: HeldAgainst
  readonly terms: AgainstTerms
  readonly name: string
  readonly number: (value: number) => string
  readonly series: Series<TestRow>
}

/** Tests as they were, the sum beside them, and the three dressingWays on where both agree. */
function pictureOf(nutrient: Kept, { held, found, terms, name, number, series }: Pictured) {
  const start = firstOf(held.tests).day
  const at = (day: IsoDate) => daysBetween(start, day) / daysOfYear
  const end = at(lastOf(held.tests).day)
  const { projected } = found
  const further =
    projected === null ? [] : dressingWays.map((way) => ({ label: words.ways[way], values: projected[way] }))
  const tested = { label: words.tested, points: held.tests.map(({ day, value }) => ({ x: at(day), y: value })) }
  const all = {
    label: words.allStayed,
    points: found.ifAllStayed.map(({ day, expected }) => ({ x: at(day), y: expected })),
  }
  const ticks = [...new Set(held.tests.map(({ day }) => day))].map((day) => ({ at: at(day), label: day.slice(0, 4) }))
  return {
    id: `against-${nutrient}`,
    title: projected === null ? words.titleApart(name) : words.titleOn(name),
    how: words.how,
    drawing: drawCourse({
      series: [
        tested,
        all,
        ...further.map(({ label, values }) => ({
          label,
          points: values.map((y, season) => ({ x: end + season, y, sure: false })),
        })),
      ],
      ticks: [
        ...ticks,
        ...further.slice(0, 1).map(() => ({
          at: end + terms.seasons,
          label: addDays(lastOf(held.tests).day, Math.round(daysOfYear * terms.seasons)).slice(0, 4),
        })),
      ],
      axis: words.axis(series.unit, series.extractant ?? words.noExtractant),
      write: (value, decimals) => formatNumber(value, terms.locale, decimals),
      fromZero: true,
      pegs: true,
    }),
    head: [words.columns.day, words.tested, words.allStayed],
    rows: [
      ...found.ifAllStayed.map(({ day, value, expected }) => [
        formatDay(day, terms.locale),
        number(value),
        number(expected),
      ]),
      ...further.map(({ label, values }) => [words.after(label, terms.seasons), '', number(lastOf(values))]),
    ],
  }
}

/** pH, P and K as they were tested last, with the laboratory's own bands. */
function besideTable(tests: readonly TestRow[], locale: string) {
  const c = words.columns
  const wanted = tests.filter((one) => /^ph\b/i.test(one.analyte) || kept.some((nutrient) => isOf(one, nutrient)))
  const last = seriesOf(wanted).map((series) => lastOf(series.tests))
  return {
    caption: words.besideHeading,
    head: [c.what, c.extractant, c.day, c.value, c.band].map((name, i) => ({ name, figure: i === 3 })),
    rows: last.map((one) => {
      const band = bandOf(one, bandsFrom(one.bands))
      return [
        one.analyte,
        one.extractant ?? words.noExtractant,
        formatDay(one.sampledOn, locale),
        `${withSign(one.value, one.beyond)} ${/^ph$/i.test(one.unit) ? '' : one.unit}`.trim(),
        band === null ? words.noBand : catalogue.soil.bands[band],
      ]
    }),
  }
}

const isOf = (one: TestRow, nutrient: Kept) =>
  sameName(one.analyte, symbolOf[nutrient]) || sameName(one.analyte, nutrient)
