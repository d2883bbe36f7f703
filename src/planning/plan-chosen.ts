import type { Plan, PlanKind } from './plan.ts'

interface PairNamed {
  readonly methodA: string
  readonly methodB: string
}

/** What a person chose of the group's own; an empty list is all of it. */
export interface PlanChosen {
  readonly kind: PlanKind
  /** Null: as many as the ground that is chosen gives. */
  readonly n: number | null
  readonly crops: number | null
  readonly seasons: number
  readonly referenceId: string | null
  readonly methods: readonly string[]
  readonly gardens: readonly string[]
  readonly blocks: readonly string[]
  readonly cropNames: readonly string[]
  /** The season whose question says which pairs are asked of. */
  readonly question: string | null
}

interface GroupToPlan {
  readonly gardens: readonly string[]
  readonly blocks: readonly string[]
  readonly crops: readonly string[]
  /** Questions that are written: the pairs that they name; none is every other method beside the reference. */
  readonly questions: readonly { readonly seasonId: string; readonly pairs: readonly PairNamed[] }[]
}

/** The methods of a plan: those of the question's pairs, otherwise the reference and those chosen beside it. */
export function methodsPlanned(chosen: PlanChosen, { questions }: Pick<GroupToPlan, 'questions'>): readonly string[] {
  const named = pairsOf(chosen, questions).flatMap(({ methodA, methodB }) => [methodA, methodB])
  if (named.length > 0) return [...new Set(named)]
  return [...new Set([chosen.referenceId, ...chosen.methods].filter((id) => id !== null))]
}

/**
 * The plan that was chosen: fewer than two methods are planned as two, and where no question names its pairs every
 * other method stands beside the reference. How many places and crops there are says the ground, unless it is typed.
 */
export function planChosen(chosen: PlanChosen, group: GroupToPlan): Plan {
  const methods = Math.max(2, methodsPlanned(chosen, group).length)
  const pairs = pairsOf(chosen, group.questions).length
  const { kind, seasons } = chosen
  return {
    kind,
    seasons,
    methods,
    n: chosen.n ?? placesOf(kind, methods, chosen, group),
    crops: chosen.crops ?? Math.max(1, chosenOf(chosen.cropNames, group.crops).length),
    pairs: pairs === 0 ? methods - 1 : pairs,
  }
}

const pairsOf = ({ question }: PlanChosen, questions: GroupToPlan['questions']) =>
  questions.find((one) => one.seasonId === question)?.pairs ?? []

/** Those of the group's own that were chosen; all of them where none was. */
const chosenOf = (chosen: readonly string[], all: readonly string[]): readonly string[] =>
  chosen.length === 0 ? all : all.filter((one) => chosen.includes(one))

function placesOf(kind: PlanKind, methods: number, chosen: PlanChosen, group: GroupToPlan): number {
  const gardens = chosenOf(chosen.gardens, group.gardens).length
  if (kind === 'one garden') return 1
  if (kind === 'gardens') return Math.max(1, Math.floor(gardens / methods))
  if (kind === 'turns') return Math.max(methods, methods * Math.floor(gardens / methods))
  return Math.max(2, kind === 'blocks of beds' ? chosenOf(chosen.blocks, group.blocks).length : gardens)
}
