import { perAreaAsTyped } from '../quantities/as-typed.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { limitNames, limitOn, limitsHeld, type SpreadingLimit } from './limits.ts'

/** What stands in the fields of a page to begin with, by their names: the limits that hold on a day. */
export function limitsTyped(kept: readonly SpreadingLimit[], day: IsoDate): ReadonlyMap<string, string> {
  const held = limitsHeld(kept)
  return new Map(
    limitNames.map(({ name, source, nutrient }) => {
      const limit = limitOn(held, { source, nutrient }, day)
      return [name, limit === null ? '' : perAreaAsTyped(limit.mostMgPerM2)]
    }),
  )
}

interface LookedAt {
  readonly kept: readonly SpreadingLimit[]
  readonly day: IsoDate
  /** By the name of each field, in milligrams a m2; null is none. */
  readonly typed: Readonly<Record<string, number | null>>
}

/** What the group holds itself to, and in place of it what was typed over what holds on that day. */
export function limitsLookedOver({ kept, day, typed }: LookedAt): SpreadingLimit[] {
  const held = limitsHeld(kept)
  const changed = limitNames.flatMap(({ name, source, nutrient }): SpreadingLimit[] => {
    const mostMgPerM2 = typed[name] ?? null
    const stands = limitOn(held, { source, nutrient }, day)?.mostMgPerM2 ?? null
    return mostMgPerM2 === stands ? [] : [{ source, nutrient, mostMgPerM2, from: null, rule: null }]
  })
  return limitsHeld(kept, changed)
}
