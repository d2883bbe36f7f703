/** What one cell says, in its parts as they were typed; each is read by the reader of its kind. */
interface EntryTyped {
  /** A day before the figure, as "Tu 5" or "5.5.:"; blank where none stands there. */
  readonly day: string
  /** The parts of a sum: "1.5+0.7", "2 kg 200 g". */
  readonly good: readonly string[]
  /** After a stroke: what is not marketable. */
  readonly bad: readonly string[]
  /** The word behind it: why not. */
  readonly why: string
}

/** "850 g", "2.5 / 0.4 forked", "Tu 1.2; Fr 0.9": one entry for each day or part that a semicolon sets off. */
export function entriesTyped(text: string): EntryTyped[] {
  return text
    .split(';')
    .map((part) => part.trim())
    .filter((part) => part !== '')
    .map(entryTyped)
}

/** A loss as a cell says it: "-30 % slugs", "Tu 5 -30%"; and what else stands in the cell. */
export interface LossInCell {
  readonly day: string
  readonly percent: string
  readonly cause: string
}

export function lossesTyped(text: string): { readonly losses: LossInCell[]; readonly rest: string } {
  const losses: LossInCell[] = []
  const rest: string[] = []
  for (const part of text.split(';')) {
    const [, before = '', percent = '', cause = ''] = /^([^-/+%]*)-\s*(\d{1,3})\s*%(.*)$/.exec(part) ?? []
    if (percent === '') rest.push(part)
    else losses.push({ day: before.trim().replace(/:$/, ''), percent, cause: cause.trim() })
  }
  return { losses, rest: rest.join(';') }
}

function entryTyped(text: string): EntryTyped {
  const { day, rest } = withoutDay(text)
  const stroke = rest.indexOf('/')
  const [before, after] = stroke < 0 ? [rest, ''] : [rest.slice(0, stroke), rest.slice(stroke + 1)]
  const { figure, word } = wordBehind(after)
  return { day, good: sumParts(before), bad: sumParts(figure), why: word }
}

/**
 * A day stands first: letters and perhaps a number ("Tu 5"), figures that points close ("5.5. 1.2"), a number and the
 * name of a month ("5 May 1.2"), or whatever a colon closes ("5/5: 1.2").
 */
function withoutDay(text: string): { day: string; rest: string } {
  for (const form of dayFirst) {
    const [, day = '', rest = ''] = form.exec(text) ?? []
    const word = /\p{L}+/u.exec(day)?.[0].toLowerCase()
    if (day !== '' && !(word !== undefined && units.has(word))) return { day: day.trim(), rest }
  }
  return { day: '', rest: text }
}

const dayFirst = [
  /^([^:/;+]{1,20}|\d{1,2}\/\d{1,2}):\s+(\S.*)$/,
  /^(\p{L}{2,12}[.,]?\s+\d{1,2}\.?\s?\d{1,2}\.|\d{4}-\d{2}-\d{2})\s+(\S.*)$/u,
  /^(\d{1,2}\.\s?\d{1,2}\.)\s+(\S.*)$/,
  /^(\d{1,2}\.?\s+\p{L}{3,12}\.?)\s+(\d.*)$/u,
  /^(\p{L}{2,12}\.?\s+\d{1,2}\.?)\s+(\d.*)$/u,
  /^(\p{L}{2,12})\.?\s+(\d.*)$/u,
]

/** "Tu 1:30; 5 May 0:45", "5/5 2 h": hours, each with the day that stands before it. */
export function timesTyped(text: string): { readonly day: string; readonly time: string }[] {
  return text
    .split(';')
    .map((part) => part.trim())
    .filter((part) => part !== '')
    .map((part) => {
      // No stroke divides hours, so that two figures with one are a day.
      const [, stroked = '', after = ''] = /^(\d{1,2}\/\d{1,2})\s+(\d.*)$/.exec(part) ?? []
      if (stroked !== '') return { day: stroked, time: after }
      const { day, rest } = withoutDay(part)
      return { day, time: rest }
    })
}

const units = new Set(
  'g kg oz lb lbs pound pounds h hr hrs hour hours min mins minute minutes std stunde stunden minuten'.split(' '),
)

/** "0.4 forked" is a figure and a word; the unit belongs to the figure. */
function wordBehind(text: string): { figure: string; word: string } {
  const words = text.trim().split(/\s+/)
  const at = words.findIndex((word, i) => i > 0 && /^\p{L}/u.test(word) && !units.has(word.toLowerCase()))
  if (at < 0) return { figure: text.trim(), word: '' }
  return { figure: words.slice(0, at).join(' '), word: words.slice(at).join(' ') }
}

/** Kilograms and grams said together are a sum too. */
function sumParts(text: string): string[] {
  return text
    .split('+')
    .flatMap(kilogramsAndGrams)
    .map((part) => part.trim())
    .filter((part) => part !== '')
}

function kilogramsAndGrams(part: string): string[] {
  const at = part.toLowerCase().indexOf('kg')
  const [before, behind] = [part.slice(0, at + 2), part.slice(at + 2)]
  const isBoth = /\d\s?kg$/i.test(before) && /^\s/.test(behind) && /^[\d.,]+\s?g$/i.test(behind.trim())
  return at > 0 && isBoth ? [before, behind] : [part]
}
