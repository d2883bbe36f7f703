import { buildUp, type CompostPlan, compostPlan } from './compost-plan.ts'
import { earnedBack } from './earned-back.ts'
import type { LabourBeside } from './labour-of-methods.ts'
import type { Offtake } from './offtake.ts'
import { type BoughtThing, thingCost } from './pay-back.ts'
import { breakEvenHoeing, breakEvenSeasons, covering, gainOfCovering, hoeing } from './restart.ts'
import { decidedBy, middleOf, type RestartAsked, restartChances } from './restart-chances.ts'
import type { StepsOfMethods } from './steps-of-methods.ts'

/** The scenarios in figures: what went in and what follows, unrounded; a refusal says its reason. */

interface CompostAsked {
  readonly garden: string
  readonly plan: CompostPlan
  readonly seasons: number
  readonly offtake: (Offtake & { season: string; areaCm2: number }) | null
}

export function compostFigures({ garden, plan, seasons, offtake }: CompostAsked) {
  const layer = compostPlan(plan)
  const against = (supplyGPerM2: number | undefined, offtakeG: number | undefined) =>
    supplyGPerM2 === undefined || offtakeG === undefined || !offtake
      ? null
      : buildUp({
          supplyGPerM2,
          seasons,
          depthMm: plan.depthMm,
          offtakeGPerM2: (10_000 * offtakeG) / offtake.areaCm2,
        })
  const carried = layer.kind === 'answer' ? layer : null
  return {
    schemaVersion: 1,
    scenario: 'compost',
    garden,
    plan,
    seasons,
    layer,
    offtake,
    phosphorus: against(carried?.phosphorus?.perM2, offtake?.phosphorusG),
    potassium: against(carried?.potassium?.perM2, offtake?.potassiumG),
  }
}

/** Both ways with every assumption, at their middle and by chance; a time in minutes, a weight in grams. */
export function restartFigures(asked: RestartAsked & { readonly bed: string; readonly left: readonly string[] }) {
  const middle = middleOf(asked)
  const chances = restartChances(asked)
  const { bed, left, assumptions, seasons, worth, seed, draws } = asked
  return {
    schemaVersion: 2,
    scenario: 'restart',
    bed,
    assumptions,
    seasons,
    worth,
    leftOut: left,
    seed,
    draws,
    middle: {
      hoeing: hoeing(middle),
      covering: covering(middle),
      gainOfCovering: gainOfCovering(middle, worth),
      breakEvenMinutes: breakEvenHoeing(middle, worth),
      breakEvenSeasons: breakEvenSeasons(middle, worth),
    },
    chances,
    decidedBy: decidedBy(chances),
  }
}

interface PaidBack {
  readonly own: string
  readonly other: string
  readonly beside: LabourBeside
  readonly steps: StepsOfMethods
}

export function payBackFigures(paid: PaidBack | null, thing: BoughtThing | null) {
  return {
    schemaVersion: 3,
    scenario: 'pay-back',
    establishing: paid && {
      ...paid,
      earnedBack: {
        hours: earnedBack(paid.steps.hours),
        inputs: earnedBack(paid.steps.inputs),
        together: paid.steps.together && earnedBack(paid.steps.together),
      },
    },
    thing: thing && { ...thing, cost: thingCost(thing) },
  }
}
