import type { Words } from '../../words/catalogue.ts'
import type { LayoutContrast } from './layout-contrast.ts'

type About = Pick<LayoutContrast, 'layout' | 'scope' | 'how' | 'df' | 'seasons' | 'certainty' | 'steps'>

/**
 * How sure it is about the methods and why no surer; how they were put where they are; whence the degrees of freedom
 * come.
 */
export function aboutNotes({ layout, scope, how, df, seasons, certainty, steps }: About, words: Words['findings']) {
  const sure = seasons === 1 ? words.methodInSeason(certainty) : words.methodCertainty[scope](certainty)
  // Findings that were kept earlier do not say why.
  const because = (steps ?? []).map((step) => words.methodSteps[step]).join(', ')
  return [
    `${sure}${because === '' ? '' : ` ${words.becauseMethods}${because}.`}`,
    words.methodHow[how],
    words.degreesOf(layout, df),
  ]
}
