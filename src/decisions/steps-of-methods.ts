import type { Step } from './earned-back.ts'
import type { SeasonOfBoth } from './labour-of-methods.ts'

/** A step with what each of the two took on a m2: `more` is their difference. */
export interface StepOfTwo extends Step {
  readonly own: number
  readonly other: number
}

export interface StepsOfMethods {
  /** Minutes per m2 of bed, without harvest, washing and packing, which grow with the crop. */
  readonly hours: readonly StepOfTwo[]
  /** Minor units per m2 of bed: inputs, things that last by their useful life, the group's own at its stated value. */
  readonly inputs: readonly StepOfTwo[]
  /** Both, an hour at what the group says that it is worth; null where it has not said. */
  readonly together: readonly StepOfTwo[] | null
  /** Spreadings whose price is not known: then the money is not either. */
  readonly unpriced: number
}

/** Closed seasons of both, in their order; `wage` in minor units an hour. */
export function stepsOfMethods(seasons: readonly SeasonOfBoth[], wage: number | null): StepsOfMethods {
  const closed = seasons.filter((one) => one.closed)
  const stepsBy = (of: (totals: SeasonOfBoth['own']) => number) =>
    closed.map(({ name, own, other, ownFounding, otherFounding }): StepOfTwo => {
      const [took, otherTook] = [perM2(of(own), own.bedAreaCm2), perM2(of(other), other.bedAreaCm2)]
      const settled = ownFounding === 0 && otherFounding === 0
      return { season: name, more: took - otherTook, own: took, other: otherTook, settled }
    })
  return {
    hours: stepsBy((totals) => totals.minutesWithoutHarvest),
    inputs: stepsBy((totals) => totals.costMinor),
    together: wage === null ? null : stepsBy((totals) => totals.costMinor + (totals.minutesWithoutHarvest * wage) / 60),
    unpriced: closed.reduce((sum, { own, other }) => sum + own.unpriced + other.unpriced, 0),
  }
}

const perM2 = (amount: number, areaCm2: number) => (10_000 * amount) / areaCm2
