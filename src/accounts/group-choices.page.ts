import { countries, countryOf, localeOf } from './countries.ts'

interface Choice {
  readonly value: string
  readonly label: string
}

interface ChoiceLabels {
  readonly choose: string
  readonly asInCountry: string
}

/** The lists that a group's country, currency, time zone and way of writing are chosen from, by name in a language. */
export function groupChoices(language: string, labels: ChoiceLabels, country = '') {
  const blank = { value: '', label: labels.asInCountry }
  return {
    country: [{ value: '', label: labels.choose }, ...countryChoices(language)],
    currency: [blank, ...currencyChoices(language)],
    timeZone: [blank, ...ownFirst(timeZoneChoices(), zonesToChoose(country))],
    locale: [blank, ...localeChoices(language)],
  }
}

/** Those of the country before all others. */
function ownFirst(choices: readonly Choice[], own: readonly string[]): readonly Choice[] {
  return [...choices.filter((one) => own.includes(one.value)), ...choices.filter((one) => !own.includes(one.value))]
}

/** The same lists for a group that has chosen; what it has stands among them even where a list does not know it. */
export function settingChoices(language: string, stands: Readonly<Record<'currency' | 'timeZone' | 'locale', string>>) {
  return {
    currency: withOwn(currencyChoices(language), stands.currency),
    timeZone: withOwn(timeZoneChoices(), stands.timeZone),
    locale: withOwn(localeChoices(language), stands.locale),
  }
}

function withOwn(choices: readonly Choice[], own: string): readonly Choice[] {
  return own === '' || choices.some((one) => one.value === own) ? choices : [{ value: own, label: own }, ...choices]
}

const sorted = (choices: readonly Choice[], language: string): readonly Choice[] =>
  [...choices].sort((a, b) => a.label.localeCompare(b.label, language))

function countryChoices(language: string): readonly Choice[] {
  const names = new Intl.DisplayNames([language], { type: 'region' })
  return sorted(
    countries.map(({ code }) => ({ value: code, label: names.of(code) ?? code })),
    language,
  )
}

function currencyChoices(language: string): readonly Choice[] {
  const names = new Intl.DisplayNames([language], { type: 'currency' })
  return Intl.supportedValuesOf('currency').map((code) => ({ value: code, label: `${code}, ${names.of(code)}` }))
}

const timeZoneChoices = (): readonly Choice[] =>
  Intl.supportedValuesOf('timeZone').map((zone) => ({ value: zone, label: zone.replaceAll('_', ' ') }))

/** The likeliest of each country, and English in each: a group may write in another language than its neighbours. */
function localeChoices(language: string): readonly Choice[] {
  const names = new Intl.DisplayNames([language], { type: 'language', languageDisplay: 'standard' })
  const tags = new Set(countries.flatMap(({ code }) => [localeOf(code), ...(spoken[code] ?? []), `en-${code}`]))
  return sorted(
    [...tags].map((tag) => ({ value: tag, label: names.of(tag) ?? tag })),
    language,
  )
}

/** Further official languages of countries with several (CLDR, territoryInfo, official status). */
const spoken: Readonly<Record<string, readonly string[]>> = {
  BE: ['fr-BE', 'de-BE'],
  CA: ['fr-CA'],
  CH: ['fr-CH', 'it-CH'],
  FI: ['sv-FI'],
  IE: ['ga-IE'],
  IT: ['de-IT'],
  LU: ['de-LU'],
}

/** The zones of a country that keeps several times, named for its question. */
export const zonesToChoose = (code: string): readonly string[] => {
  const zones = countryOf(code)?.timeZones ?? []
  return zones.length > 1 ? zones : []
}
