import { sent } from '../lookups/unsaid.ts'
import { catalogue } from '../words/catalogue.ts'

const words = catalogue.accounts.group
const names = [
  ...(['name', 'currency', 'timeZone', 'locale', 'weightUnit', 'areaUnit'] as const),
  'labourRateMinorPerHour' as const,
]

type SettingsTyped = Readonly<Record<string, unknown>>

/** Both versions of the settings, field by field, where someone else has saved meanwhile. */
export const bothVersions = (stands: SettingsTyped, typed: SettingsTyped) =>
  names.map((name) => ({ label: words[name], stands: sent(stands[name]), typed: sent(typed[name]) }))
