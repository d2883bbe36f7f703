/** How much one unit of a word is: a whole number of millilitres, of grams, or both where the group has weighed it. */
export interface LoadMeasure {
  readonly name: string
  readonly volumeMl: number | null
  readonly massG: number | null
}

/**
 * Litre and tonne as in the SI Brochure (BIPM); yard, foot and pound exact by NIST Special Publication 811, appendix B.
 */
const standard: readonly LoadMeasure[] = [
  ...['l', 'litre', 'liter'].map((name) => ({ name, volumeMl: 1000, massG: null })),
  ...['m3', 'm³', 'cubic metre', 'cubic meter'].map((name) => ({ name, volumeMl: 1_000_000, massG: null })),
  ...['yd3', 'cubic yard'].map((name) => ({ name, volumeMl: 764_554.857984, massG: null })),
  ...['ft3', 'cubic foot'].map((name) => ({ name, volumeMl: 28_316.846592, massG: null })),
  { name: 'g', volumeMl: null, massG: 1 },
  { name: 'kg', volumeMl: null, massG: 1000 },
  ...['t', 'tonne'].map((name) => ({ name, volumeMl: null, massG: 1_000_000 })),
  ...['lb', 'pound'].map((name) => ({ name, volumeMl: null, massG: 453.59237 })),
]

/** The group's own words first, then the usual units; a plural in s or es is the same word. */
function measureNamed(word: string, own: readonly LoadMeasure[]): LoadMeasure | undefined {
  const plain = word.trim().toLowerCase()
  const spellings = [plain, plain.replace(/s$/, ''), plain.replace(/es$/, '')]
  const called = (measure: LoadMeasure) => spellings.includes(measure.name.trim().toLowerCase())
  return own.find(called) ?? standard.find(called)
}

/** Of a word that the group has both measured and weighed: kilograms in a m3; null for any other. */
export function densityOf(word: string, own: readonly LoadMeasure[]): number | null {
  const found = measureNamed(word, own)
  return found && found.volumeMl !== null && found.massG !== null ? (1000 * found.massG) / found.volumeMl : null
}

const sameWord = (a: string, b: string) => measureNamed(a, [{ name: b, volumeMl: null, massG: null }])?.name === b

export interface Counted {
  readonly thousandths: number
  /** Null where no word was typed: then it is in the input's own unit. */
  readonly word: string | null
}

export interface CountedIn {
  readonly unit: string
  readonly densityKgPerM3: number | null
  readonly measures: readonly LoadMeasure[]
}

type InUnit =
  | { readonly kind: 'answer'; readonly thousandths: number }
  | { readonly kind: 'refused'; readonly reason: 'unknown measure' | 'nothing in common'; readonly word: string }

/**
 * "12 barrows" in the unit that the input is counted in, to thousandths, rounded once: by volume where both have one,
 * by mass where both have one, otherwise by the input's own density. Refused where the word has no size here.
 * Example: 12 barrows of 85 L in m3 are 1.020.
 */
export function inUnitOf({ thousandths, word }: Counted, { unit, densityKgPerM3, measures }: CountedIn): InUnit {
  if (word === null || sameWord(word, unit)) return { kind: 'answer', thousandths }
  const [from, to] = [measureNamed(word, measures), measureNamed(unit, measures)]
  if (!from) return { kind: 'refused', reason: 'unknown measure', word }
  if (!to) return { kind: 'refused', reason: 'nothing in common', word }
  const ratio = ratioOf(from, to, densityKgPerM3)
  if (ratio === null) return { kind: 'refused', reason: 'nothing in common', word }
  return { kind: 'answer', thousandths: Math.max(1, Math.round(thousandths * ratio)) }
}

function ratioOf(from: LoadMeasure, to: LoadMeasure, density: number | null): number | null {
  if (from.volumeMl && to.volumeMl) return from.volumeMl / to.volumeMl
  if (from.massG && to.massG) return from.massG / to.massG
  if (!density) return null
  // kg per m3 is g per litre, so that a millilitre weighs density / 1000 grams.
  if (from.volumeMl && to.massG) return (from.volumeMl * density) / 1000 / to.massG
  return from.massG && to.volumeMl ? (from.massG * 1000) / density / to.volumeMl : null
}

export const millilitresOf = (thousandths: number, counted: CountedIn): number | null =>
  sizeOf(thousandths, counted, 'l')

export const gramsOf = (thousandths: number, counted: CountedIn): number | null => sizeOf(thousandths, counted, 'g')

function sizeOf(thousandths: number, { unit, densityKgPerM3, measures }: CountedIn, into: 'l' | 'g'): number | null {
  const [from, to] = [measureNamed(unit, measures), measureNamed(into, [])]
  const ratio = from && to ? ratioOf(from, to, densityKgPerM3) : null
  if (ratio === null) return null
  return into === 'l' ? thousandths * ratio : (thousandths * ratio) / 1000
}

interface Layer {
  readonly volumeMl: number
  readonly depthMm: number
  /** What this volume cost in all; null while it has no price. */
  readonly costMinor: number | null
}

/** The ground that a volume covers at a depth, and the material's cost per m2 of it. 10 L cover 1 m2 at 10 mm. */
export function coverOf({ volumeMl, depthMm, costMinor }: Layer) {
  const areaCm2 = (10 * volumeMl) / depthMm
  return { areaCm2, costMinorPerM2: costMinor === null ? null : (10_000 * costMinor) / areaCm2 }
}
