import { type Reading, read, readDecimal, unreadable } from './decimals.ts'

export type Minutes = number & { readonly unit: 'min' }

export interface Labour {
  readonly people: number
  readonly personMinutes: Minutes
}

const mostPeople = 200
const minutesOfAWeek = 7 * 24 * 60
const minutesPer = new Map(Object.entries({ '': 60, h: 60, hours: 60, hour: 60, m: 1, min: 1, minutes: 1 }))

/** Reads "1.5" and "1,5" (hours), "1:30", "90 min", "1 h 30", and "2 x 1:30": two people, each that long. */
export function readLabour(text: string): Reading<Labour> {
  const several = /^\s*(\d+)\s*[x×*]\s*(.+)$/i.exec(text)
  const people = several ? Number(several[1]) : 1
  const minutes = readMinutes(several?.[2] ?? text)
  if (minutes.kind === 'refused') return minutes
  if (people < 1 || minutes.value === 0) return unreadable('zero')
  if (people > mostPeople || minutes.value > minutesOfAWeek) return unreadable('too-large')
  return read({ people, personMinutes: (people * minutes.value) as Minutes })
}

function readMinutes(text: string): Reading<number> {
  const plain = text.trim().toLowerCase()
  const clock = /^(\d+):([0-5]\d)$/.exec(plain) ?? /^(\d+)\s*h\s*([0-5]?\d)\s*(?:m|min)?$/.exec(plain)
  if (clock) return read(60 * Number(clock[1]) + Number(clock[2]))
  const found = /^([-−]?[\d.,\s]+?)\s*([a-z]*)$/.exec(plain)
  if (!found) return unreadable(plain === '' ? 'empty' : 'not-a-number')
  const amount = readDecimal(found[1] ?? '')
  if (amount.kind === 'refused') return amount
  const per = minutesPer.get(found[2] ?? '')
  return per ? read(Math.round(amount.value * per)) : unreadable('unknown-unit')
}
