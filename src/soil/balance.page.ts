import { formatNumber } from '../quantities/formatting.ts'
import { type Balance, type BalanceRows, balanceOf, type Sum } from './balance.ts'
import { nutrientNames } from './nutrients.ts'

type Rows = Omit<BalanceRows, 'gardens'> & { readonly gardens: readonly { id: string; name: string }[] }

/** One table a nutrient: what came to each garden, what left it, and the most that can have stayed, per m2 of bed. */
export function balancePage(rows: Rows, locale: string) {
  const name = new Map(rows.gardens.map((garden) => [garden.id, garden.name]))
  const balances = balanceOf(rows).filter((one) => one.bedAreaCm2 > 0)
  const perM2 = (mg: number, { bedAreaCm2 }: Balance) => formatNumber((10 * mg) / bedAreaCm2, locale, 1)
  const shown = (sum: Sum, balance: Balance) => ({
    figure: sum.unknown.length > 0 && sum.knownMg === 0 ? null : perM2(sum.knownMg, balance),
    unknown: sum.unknown,
  })
  return {
    nutrients: nutrientNames.map((nutrient) => ({
      nutrient,
      rows: balances.map((balance) => {
        const { carried, taken, leftMg } = balance.nutrients[nutrient]
        return {
          garden: name.get(balance.gardenId) ?? '',
          carried: shown(carried, balance),
          taken: shown(taken, balance),
          left: leftMg === null ? null : perM2(leftMg, balance),
        }
      }),
    })),
  }
}
