import { type Answer, answer, type Refusal } from './answer.ts'
import { type LastingThing, outOfRange } from './capital-recovery.ts'

/** The yearly cost of a lasting thing in equal parts: (price - salvage) / years. Refusals as in `capitalRecovery`. */
export function straightLine(thing: LastingThing): Answer<{ yearlyCost: number }> | Refusal {
  return outOfRange(thing) ?? answer({ yearlyCost: (thing.price - thing.salvage) / thing.years })
}
