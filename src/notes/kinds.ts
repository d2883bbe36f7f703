import { isOneOf, keysOf } from '../lookups/keys.ts'

export const noteKinds = ['weed', 'pest', 'disease', 'germination', 'weather', 'soil', 'other'] as const

/** What is usually counted, with the unit that goes with it; anything else is named by its writer. */
const usualCounts = {
  shoots: { unit: 'shoots', outOf: false, belowZero: false },
  earthworms: { unit: 'worms', outOf: false, belowZero: false },
  /** Bare soil in the sun comes to 60 °C and more, and frozen ground under snow seldom to -20: from memory. */
  'soil temperature': { unit: '°C', outOf: false, belowZero: true, usually: [-20, 65] },
  infiltration: { unit: 'min', outOf: false, belowZero: false },
  'plants standing': { unit: 'plants', outOf: true, belowZero: false },
} as const

export const usualCountNames = keysOf(usualCounts)
export const usualCountOf = (what: string) => (isOneOf(usualCountNames, what) ? usualCounts[what] : undefined)
