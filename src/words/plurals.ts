/** The forms of what stands behind a number: `one` and `other`, and whatever else its language has. */
type Forms<T> = { readonly one: T; readonly other: T } & Partial<Readonly<Record<Intl.LDMLPluralRule, T>>>

/** Picks the form that a language has for a number, by the rules of the Unicode CLDR. */
export function pluralsOf(locale: string): <T>(count: number, forms: Forms<T>) => T {
  const rules = new Intl.PluralRules(locale)
  return (count, forms) => forms[rules.select(count)] ?? forms.other
}
