/** The parts that a report can have, in the order in which they stand on it. */
export const sectionKeys = [
  'findings',
  'measures',
  'matched',
  'seasons',
  'why',
  'gardens',
  'decided',
  'counting',
] as const

export type Section = (typeof sectionKeys)[number]

/** In a new report, until a keeper chooses others: what fits on four sheets of paper. The rest is an annex. */
export const firstSections: readonly Section[] = ['findings', 'matched', 'seasons', 'gardens']

/** Reports of before parts could be chosen have none stored: they show all that they hold. */
export const sectionsIn = (stored: unknown): readonly Section[] => {
  const chosen = Array.isArray(stored) ? sectionKeys.filter((key) => stored.includes(key)) : []
  return chosen.length > 0 ? chosen : sectionKeys
}

/** A part that was chosen by itself: what was decided goes out with no report of before it could be. */
export const wantsDecided = (stored: unknown): boolean => Array.isArray(stored) && stored.includes('decided')
