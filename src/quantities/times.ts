import { cutUnit, type Reading, read, readDecimal, unreadable } from './decimals.ts'

type Minutes = number & { readonly unit: 'min' }

interface Labour {
  readonly people: number
  readonly personMinutes: Minutes
}

const mostPeople = 200
const minutesOfAWeek = 7 * 24 * 60
const minutesPer = new Map(Object.entries({ '': 60, h: 60, hours: 60, hour: 60, m: 1, min: 1, minutes: 1 }))

/** Reads "1.5" and "1,5" (hours), "1:30", "90 min", "1 h 30", and "2 x 1:30": two people, each that long. */
export function readLabour(text: string, locale?: string): Reading<Labour> {
  const plain = text.trim().toLowerCase()
  const cut = plain.search(/[x×*]/)
  const counted = plain.slice(0, Math.max(cut, 0)).trim()
  const several = /^\d{1,9}$/.test(counted)
  const people = several ? Number(counted) : 1
  const each = several ? plain.slice(cut + 1).trim() : plain
  if (several && each === '') return unreadable('not-a-number')
  const minutes = readMinutes(each, locale)
  if (minutes.kind === 'refused') return minutes
  if (people < 1 || minutes.value === 0) return unreadable('zero')
  if (people > mostPeople || minutes.value > minutesOfAWeek) return unreadable('too-large')
  return read({ people, personMinutes: (people * minutes.value) as Minutes })
}

function readMinutes(plain: string, locale: string | undefined): Reading<number> {
  const clock =
    /^(\d{1,9}):([0-5]\d)$/.exec(plain) ?? /^(\d{1,9})\s{0,9}h\s{0,9}([0-5]?\d)\s{0,9}(?:m|min)?$/.exec(plain)
  if (clock) return read(60 * Number(clock[1]) + Number(clock[2]))
  const { amount: typed, unit } = cutUnit(plain)
  if (plain && !typed) return unreadable('not-a-number')
  const amount = readDecimal(typed, locale)
  if (amount.kind === 'refused') return amount
  const per = minutesPer.get(unit)
  return per ? read(Math.round(amount.value * per)) : unreadable('unknown-unit')
}
