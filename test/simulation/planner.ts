/**
 * How often the planner's intervals hold and what they show, with and without method by season, for two methods and for
 * three at the level of their pairs: npm run simulate:planner. The table is kept in planner.json beside it.
 */
import { writeFileSync } from 'node:fs'
import { assumedSpreads, chanceToSee, levelOfPlan, type Plan, planKinds } from '../../src/planning/plan.ts'
import { simulated } from '../../src/planning/simulated.ts'
import { chanceFrom } from '../../src/statistics/chance-from.ts'

const trials = 20_000
const ratio = 1.3
const places = (kind: Plan['kind'], methods: number) => (kind === 'one garden' ? 1 : methods === 2 ? 4 : 6)
const share = (value: number) => Math.round(10_000 * value) / 10_000

const rows = [2, 3].flatMap((methods) =>
  planKinds.flatMap((kind) =>
    [1, 2, 3, 6].flatMap((seasons) =>
      [0, 0.06, 0.12].flatMap((methodBySeason) => {
        const plan: Plan = { kind, n: places(kind, methods), crops: 8, seasons, methods, pairs: methods - 1 }
        const spreads = { ...assumedSpreads, methodBySeason }
        const found = simulated(plan, spreads, { ratio, trials, chance: chanceFrom(2027) })
        if (!found) return []
        const planned = chanceToSee(ratio, plan, spreads)
        return [
          {
            ...{ methods, kind, n: plan.n, seasons, methodBySeason, level: share(levelOfPlan(plan)) },
            ...{ held: share(found.held), without: share(found.heldWithout), seen: share(found.seen) },
            planned: planned === null ? null : share(planned),
          },
        ]
      }),
    ),
  ),
)

const lines = rows.map((row) => JSON.stringify(row)).join(',\n    ')
writeFileSync(
  'test/simulation/planner.json',
  `{\n  "trials": ${trials},\n  "ratio": ${ratio},\n  "crops": 8,\n  "rows": [\n    ${lines}\n  ]\n}\n`,
)
const of = (value: number) => (100 * value).toFixed(1).padStart(6)
console.log('methods layout          n  S    m   level    held  without   seen  planned (per cent)')
for (const row of rows) {
  const at = `${row.methods}       ${row.kind.padEnd(15)} ${row.n}  ${row.seasons}  ${row.methodBySeason.toFixed(2)}`
  console.log(
    `${at} ${of(row.level)} ${of(row.held)} ${of(row.without)} ${of(row.seen)} ${of(row.planned ?? Number.NaN)}`,
  )
}
