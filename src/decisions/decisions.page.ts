import type { IsoDate } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { namesMeant } from './decided-told.ts'
import { dueForALook } from './due.ts'
import { type ChoicesOfFigures, expectationOf, type FigureStored, unitExpected } from './expectation.ts'
import { happenedBy, type RecordAsked } from './happened.ts'
import { outcomeShown } from './outcome.page.ts'

interface DecisionRow extends FigureStored {
  readonly id: string
  readonly seasonId: string
  readonly decidedOn: IsoDate
  readonly decision: string
  readonly finding: string
  readonly expected: string
  readonly lookAgainOn: IsoDate | null
  readonly happened: string | null
  readonly question: string | null
  readonly assumptions: string | null
  /** Below the group's. */
  readonly address: string | null
}

interface Rows {
  readonly decisions: readonly DecisionRow[]
  /** In the order of their days. */
  readonly seasons: readonly { id: string; name: string }[]
  readonly today: IsoDate
  readonly choices: ChoicesOfFigures
  readonly asked: RecordAsked
}

interface Written {
  readonly locale: string
  readonly currency: string
}

/** The log of decisions, the latest season first; within it as they were decided. */
export function decisionsPage({ decisions, seasons, today, choices, asked }: Rows, written: Written) {
  const { locale } = written
  const due = new Set(dueForALook(decisions, today).map((one) => one.id))
  return {
    seasons: [...seasons].reverse().flatMap((season) => {
      const own = decisions.filter((one) => one.seasonId === season.id)
      if (own.length === 0) return []
      return [
        {
          name: season.name,
          decisions: own.map((one) => ({
            id: one.id,
            decision: one.decision,
            question: one.question,
            assumptions: one.assumptions === null ? [] : one.assumptions.split('\n'),
            address: one.address,
            finding: one.finding,
            expected: one.expected,
            happened: one.happened,
            due: due.has(one.id),
            day: formatDay(one.decidedOn, locale),
            lookAgain: one.lookAgainOn === null ? null : formatDay(one.lookAgainOn, locale),
            outcome: outcomeOf(one),
          })),
        },
      ]
    }),
    awaiting: decisions.flatMap(({ id, decision, happened, decidedOn }) =>
      happened === null ? [{ value: id, label: `${formatDay(decidedOn, locale)}: ${decision}` }] : [],
    ),
    seasonChoices: seasons.map(({ id, name }) => ({ value: id, label: name })).reverse(),
  }

  function outcomeOf(one: DecisionRow) {
    const expectation = expectationOf(one)
    if (!expectation) return null
    const happened = happenedBy(asked, { ...expectation, decidedOn: one.decidedOn })
    return outcomeShown(expectation, namesMeant(expectation, choices), happened, written)
  }
}

/** The log as figures: what was expected, and what the record says, each in the measure's unit, with its two sums. */
export function decisionFigures({ decisions, asked }: Pick<Rows, 'decisions' | 'asked'>, currency: string) {
  return {
    schemaVersion: 1,
    currency,
    decisions: decisions.map((one) => {
      const of = expectationOf(one)
      return {
        id: one.id,
        decidedOn: one.decidedOn,
        decision: one.decision,
        expected: one.expected,
        figure: of && {
          measure: of.measure,
          unit: unitExpected[of.measure],
          expected: of.expectedThousandths / 1000,
          low: inUnits(of.lowThousandths),
          high: inUnits(of.highThousandths),
          happened: happenedBy(asked, { ...of, decidedOn: one.decidedOn }),
        },
      }
    }),
  }
}

const inUnits = (thousandths: number | null) => (thousandths === null ? null : thousandths / 1000)
