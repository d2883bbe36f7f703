/** Sentences by their English: for those that reach a page whole, such as what a field says or a notice. */
export interface Phrasebook {
  readonly sentences: ReadonlyMap<string, string>
  readonly patterns: readonly Pattern[]
}

interface Pattern {
  /** What stands before, between and behind the blanks. */
  readonly english: readonly string[]
  readonly say: (given: readonly string[]) => string
}

type Saying = (...given: string[]) => unknown

/** Pairs the leaves of two trees of words; a sentence with blanks becomes a pattern where it only sets its blanks in. */
export function phrasebook(english: unknown, own: unknown): Phrasebook {
  const sentences = new Map<string, string>()
  const patterns: Pattern[] = []
  const pair = (from: unknown, to: unknown): void => {
    if (typeof from === 'string' && typeof to === 'string') sentences.set(from, to)
    else if (typeof from === 'function' && typeof to === 'function') {
      const pattern = patternOf(from as Saying)
      if (pattern) patterns.push({ ...pattern, say: (given) => String((to as Saying)(...pattern.inOrder(given))) })
    } else if (isTree(from) && isTree(to)) for (const key of Object.keys(to)) pair(from[key], to[key])
  }
  pair(english, own)
  return { sentences, patterns }
}

export function sayWith({ sentences, patterns }: Phrasebook, sentence: string): string {
  const known = sentences.get(sentence)
  if (known !== undefined) return known
  for (const { english, say } of patterns) {
    const found = blanksOf(english, sentence)
    if (found) return say(found)
  }
  return sentence
}

/** What stands in the blanks, each at least a letter; looked for from the left, in one pass. */
function blanksOf(english: readonly string[], sentence: string): string[] | undefined {
  const [first = '', last = ''] = [english[0], english.at(-1)]
  if (!sentence.startsWith(first)) return undefined
  const found: string[] = []
  let at = first.length
  for (const part of english.slice(1, -1)) {
    const next = sentence.indexOf(part, at + 1)
    if (next < 0) return undefined
    found.push(sentence.slice(at, next))
    at = next + part.length
  }
  if (at >= sentence.length - last.length || !sentence.endsWith(last)) return undefined
  return [...found, sentence.slice(at, sentence.length - last.length)]
}

const isTree = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null

const blank = (place: number) => `\u27e6${place}\u27e7`

/** Undefined where a blank is reckoned with rather than set in, or where little but blanks would be left to know it by. */
function patternOf(say: Saying) {
  const said = saidWithBlanks(say)
  if (said === undefined) return undefined
  const parts = said.split(/\u27e6(\d+)\u27e7/)
  const order = parts.filter((_, i) => i % 2 === 1).map(Number)
  const english = parts.filter((_, i) => i % 2 === 0)
  const isKnown = english.join('').trim().length >= 10 && say.length > 0
  if (order.length !== say.length || new Set(order).size !== order.length || !isKnown) return undefined
  const inOrder = (given: readonly string[]) => order.map((_, place) => given[order.indexOf(place)] ?? '')
  return { english, inOrder }
}

function saidWithBlanks(say: Saying): string | undefined {
  try {
    const said = say(...Array.from({ length: say.length }, (_, place) => blank(place)))
    return typeof said === 'string' ? said : undefined
  } catch {
    return undefined
  }
}
