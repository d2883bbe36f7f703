import type { IsoDate } from '../quantities/dates.ts'
import { type ChoicesOfFigures, type Expectation, expectationOf, type FigureStored } from './expectation.ts'
import { happenedBy, type RecordAsked, type SaidByRecord } from './happened.ts'

interface SaidOfDecision {
  readonly decidedOn: IsoDate
  readonly decision: string
  readonly question: string | null
  /** The answer on which it was decided. */
  readonly finding: string
  readonly assumptions: string | null
  /** Of the page of Decide, below the group's. */
  readonly address: string | null
  readonly expected: string
  readonly happened: string | null
}

/** Names of what an expectation is about; null where it names none. */
export interface NamesMeant {
  readonly season: string | null
  readonly method: string | null
  readonly beside: string | null
  readonly ground: string | null
  readonly input: string | null
}

/** A decision as it is told outside the log, in codes and figures: what was expected, and what the record says. */
export interface DecidedTold extends SaidOfDecision {
  readonly figure: { readonly of: Expectation; readonly names: NamesMeant; readonly happened: SaidByRecord } | null
}

type Row = SaidOfDecision & FigureStored & { readonly seasonId: string }

/** What was decided at the end of these seasons, or after them, with nobody's name. */
export function decidedTold(
  rows: readonly Row[],
  seasonIds: readonly string[],
  { asked, choices }: { readonly asked: RecordAsked; readonly choices: ChoicesOfFigures },
): DecidedTold[] {
  return rows
    .filter((row) => seasonIds.includes(row.seasonId))
    .map((row) => {
      const { decidedOn, decision, question, finding, assumptions, address, expected, happened } = row
      const said = { decidedOn, decision, question, finding, assumptions, address, expected, happened }
      const of = expectationOf(row)
      if (!of) return { ...said, figure: null }
      const names = namesMeant(of, choices)
      return { ...said, figure: { of, names, happened: happenedBy(asked, { ...of, decidedOn }) } }
    })
}

export function namesMeant(of: Expectation, choices: ChoicesOfFigures): NamesMeant {
  const named = (among: ChoicesOfFigures[keyof ChoicesOfFigures], id: string | null) =>
    among.find((one) => one.value === id)?.label ?? null
  const ground = of.gardenId === null ? `bed:${of.bedId}` : `garden:${of.gardenId}`
  return {
    season: named(choices.aboutSeasonId, of.aboutSeasonId),
    method: named(choices.methodId, of.methodId),
    beside: named(choices.methodId, of.besideMethodId),
    ground: named(choices.ground, ground),
    input: named(choices.inputId, of.inputId),
  }
}
