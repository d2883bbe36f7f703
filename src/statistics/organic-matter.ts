import { type Answer, answer, type Refusal, refused } from './answer.ts'

interface OrganicMatterInput {
  /** Stock at the start and what is brought a year, in one unit, such as g/m2. */
  readonly start: number
  readonly input: number
  /** Share of the input that becomes soil organic matter, 0..1. */
  readonly humified: number
  /** Share of the stock lost a year, 0..1. */
  readonly decay: number
  readonly years: number
  readonly form?: 'continuous' | 'discrete'
}

interface OrganicMatter {
  readonly course: readonly { readonly year: number; readonly stock: number }[]
  readonly levelOff: number
  readonly halfTime: number
}

/**
 * The course of soil organic matter under a steady input: it nears `levelOff` = humified x input / decay and never
 * grows for ever. One pool, yearly. Refuses decay outside 0..1 and figures under 0.
 * Henin & Dupuis 1945, Annales agronomiques 15:17-29.
 */
export function organicMatter(given: OrganicMatterInput): Answer<OrganicMatter> | Refusal {
  const { start, input, humified, decay, years, form = 'continuous' } = given
  if (!(decay > 0 && decay < 1)) return refused('out of range', `decay ${decay}`)
  if (![start, input, humified, years].every((value) => Number.isFinite(value) && value >= 0)) {
    return refused('out of range', 'a figure under 0')
  }
  const levelOff = (humified * input) / decay
  const left = (year: number) => (form === 'continuous' ? Math.exp(-decay * year) : (1 - decay) ** year)
  const course = Array.from({ length: Math.floor(years) + 1 }, (_, year) => ({
    year,
    stock: levelOff + (start - levelOff) * left(year),
  }))
  return answer({ course, levelOff, halfTime: Math.LN2 / (form === 'continuous' ? decay : -Math.log(1 - decay)) })
}
