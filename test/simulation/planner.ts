/**
 * How often the planner's intervals hold and what they show, with and without method by season: npx tsx
 * test/simulation/planner.ts
 */
import { assumedSpreads, chanceToSee, type Plan, planKinds } from '../../src/planning/plan.ts'
import { simulated } from '../../src/planning/simulated.ts'
import { chanceFrom } from '../../src/statistics/chance-from.ts'

const trials = 20_000
const of = (share: number) => (100 * share).toFixed(1).padStart(6)
console.log('layout           n  S    m    held  without   seen  planned (per cent)')
for (const kind of planKinds)
  for (const seasons of [1, 2, 3, 6])
    for (const methodBySeason of [0, 0.06, 0.12]) {
      const plan: Plan = { kind, n: kind === 'one garden' ? 1 : 4, crops: 8, seasons }
      const spreads = { ...assumedSpreads, methodBySeason }
      const found = simulated(plan, spreads, { ratio: 1.3, trials, chance: chanceFrom(2027) })
      if (!found) continue
      const planned = chanceToSee(1.3, plan, spreads)
      const at = `${kind.padEnd(15)} ${plan.n}  ${seasons}  ${methodBySeason.toFixed(2)}`
      console.log(`${at} ${of(found.held)} ${of(found.heldWithout)} ${of(found.seen)} ${of(planned ?? Number.NaN)}`)
    }
