const marks = new Map<string, '.' | ','>()

/** The decimal separator of a locale, in the digits that the service writes everywhere. */
export function decimalMarkOf(locale: string | undefined): '.' | ',' | undefined {
  if (locale === undefined) return undefined
  const known = marks.get(locale)
  if (known) return known
  const format = new Intl.NumberFormat(locale, { numberingSystem: 'latn', minimumFractionDigits: 1 })
  const mark = format.formatToParts(1.5).some((part) => part.type === 'decimal' && part.value === ',') ? ',' : '.'
  marks.set(locale, mark)
  return mark
}

/** Thin, and no line ends there: no country takes it for a decimal separator. */
export const thousandsMark = '\u202f'
