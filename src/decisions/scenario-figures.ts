import { buildUp, type CompostPlan, compostPlan } from './compost-plan.ts'
import type { LabourBeside } from './labour-of-methods.ts'
import type { Offtake } from './offtake.ts'
import { type BoughtThing, payBack, thingCost } from './pay-back.ts'
import { endsOf, restart, restartCost, type Spans, verdictOf, type Worth } from './restart.ts'

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
          ...{ supplyGPerM2, seasons, depthMm: plan.depthMm },
          offtakeGPerM2: (10_000 * offtakeG) / offtake.areaCm2,
        })
  const carried = layer.kind === 'answer' ? layer : null
  return {
    ...{ schemaVersion: 1, scenario: 'compost', garden, plan, seasons, layer, offtake },
    phosphorus: against(carried?.phosphorus?.perM2, offtake?.phosphorusG),
    potassium: against(carried?.potassium?.perM2, offtake?.potassiumG),
  }
}

export function restartFigures(asked: Spans & { bed: string; worth: Worth | null }) {
  const scenarios = { middle: asked.middle, ...endsOf(asked) }
  const [middle, forCovering, forHoeing] = [
    restart(scenarios.middle),
    restart(scenarios.forCovering),
    restart(scenarios.forHoeing),
  ]
  const { worth } = asked
  return {
    ...{ schemaVersion: 1, scenario: 'restart', bed: asked.bed, factor: asked.factor, scenarios },
    hours: { middle, forCovering, forHoeing },
    cost: worth && restartCost(asked.middle, worth),
    verdict:
      forCovering.kind === 'answer' && forHoeing.kind === 'answer' ? verdictOf(forCovering, forHoeing) : 'undecided',
  }
}

interface PaidBack {
  readonly own: string
  readonly other: string
  readonly beside: LabourBeside
}

export function payBackFigures(paid: PaidBack | null, thing: BoughtThing | null) {
  const against = (establishing: LabourBeside['establishing'], { ownYearly, otherYearly }: LabourBeside) =>
    payBack({ establishing, ownYearly, otherYearly })
  return {
    ...{ schemaVersion: 1, scenario: 'pay-back' },
    establishing: paid && {
      ...paid,
      all: against(paid.beside.establishing, paid.beside),
      extra: against(paid.beside.extra, paid.beside),
    },
    thing: thing && { ...thing, cost: thingCost(thing) },
  }
}
