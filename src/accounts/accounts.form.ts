import { z } from 'zod'
import { sent } from '../lookups/unsaid.ts'
import { addDays, daysBetween, type IsoDate } from '../quantities/dates.ts'
import { choice, date, money, optional, optionalText, said, text, wholeNumber } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'
import { countryOf, localeOf, unitsOf } from './countries.ts'
import { type AboutPerson, passwordRefused } from './password-refused.ts'

const words = () => wordsHere().accounts

export const email = text({ most: 200 })
  .transform((typed) => typed.toLowerCase())
  .refine(
    isAddress,
    said((w) => w.notEmail),
  )

/** One @ with something before it, and behind it a name with a point inside. */
function isAddress(typed: string): boolean {
  const [before = '', behind = '', ...more] = typed.split('@')
  if (more.length > 0 || before === '' || /\s/.test(typed)) return false
  return behind.slice(1, -1).includes('.')
}

export const password = z.string(said((w) => w.missing)).max(1000)

/** What the field of a new password says of one that is not taken, where it is not. */
export function refusalOf(typed: string, known: AboutPerson): string | null {
  const why = passwordRefused(typed, known)
  return why && wordsHere().account[why]
}

export const signUpForm = z.object({ name: text({ most: 100 }), email, password }).superRefine((typed, context) => {
  const refused = refusalOf(typed.password, typed)
  if (refused) context.addIssue({ code: 'custom', path: ['password'], message: refused })
})

export const signInForm = z.object({
  email,
  password: password.min(
    1,
    said((w) => w.missing),
  ),
  next: z.string().optional(),
})

export const groupForm = z.object({
  name: text({ most: 100 }),
  currency: text({ most: 3 })
    .transform((typed) => typed.toUpperCase())
    .refine((code) => Intl.supportedValuesOf('currency').includes(code), { error: () => words().group.badCurrency }),
  timeZone: text({ most: 60 }).refine(isTimeZone, { error: () => words().group.badTimeZone }),
  locale: text({ most: 35 }).refine(isLocale, { error: () => words().group.badLocale }),
  weightUnit: choice(['kg', 'lb']),
  areaUnit: choice(['m2', 'ft2']),
})

const blank = (typed: unknown) => sent(typed).trim() === ''

/**
 * What starts a group: its name and country. What is left blank beside them is as in the country; a country that keeps
 * several times is asked which.
 */
export const newGroupForm = z.preprocess((typed) => {
  const given = { ...(typed as Record<string, unknown>) }
  const country = countryOf(sent(given.country))
  if (!country) return given
  const zone = country.timeZones.length === 1 ? country.timeZones[0] : ''
  const usual = { currency: country.currency, timeZone: zone, locale: localeOf(country.code), ...unitsOf(country.code) }
  for (const [name, value] of Object.entries(usual)) if (blank(given[name])) given[name] = value
  return given
}, groupForm)

/** With the version that was seen: 0 where the form names none, and nothing is written over. */
export const settingsForm = (currency: string) =>
  groupForm.extend({
    labourRateMinorPerHour: optional(money(currency)),
    version: wholeNumber({ least: 0, most: 1_000_000 }).catch(0),
  })

const role = choice(['reader', 'recorder', 'keeper'])

export const roleForm = z.object({ role })

export const askFactorForm = z.object({ asks: choice(['yes', 'no']) })

export const takeOutForm = z.object({ reason: optionalText({ most: 300 }) })

/** Two months; a link that lies about for longer is found by someone. */
const mostDays = 61

/** For one person and a week where nothing else is said. */
export const inviteForm = (today: IsoDate) =>
  z.object({
    role,
    places: optional(wholeNumber({ least: 1, most: 50 })).transform((places) => places ?? 1),
    lastDay: optional(
      date().refine((day) => isSoon(today, day), { error: () => wordsHere().people.tooLate }),
    ).transform((day) => day ?? usualLastDay(today)),
  })

function isSoon(today: IsoDate, day: IsoDate): boolean {
  const days = daysBetween(today, day)
  return days >= 0 && days <= mostDays
}

export const usualLastDay = (today: IsoDate): IsoDate => addDays(today, 7)

function isTimeZone(name: string): boolean {
  try {
    return Boolean(new Intl.DateTimeFormat('en', { timeZone: name }))
  } catch {
    return false
  }
}

function isLocale(tag: string): boolean {
  try {
    return Intl.NumberFormat.supportedLocalesOf(tag).length === 1
  } catch {
    return false
  }
}
