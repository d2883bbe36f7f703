/** A field of a form of assumptions, as its page shows it. */
export interface FieldAssumed {
  readonly label: string
  readonly value?: string | undefined
  readonly options?: readonly { readonly value: string; readonly label: string }[]
}

/** What is taken for granted, a line a field, as it stands in the form; what is blank is left out. */
export const assumptionsIn = (fields: readonly FieldAssumed[]): string[] =>
  fields.flatMap(({ label, value, options }) => {
    const said = options?.find((one) => one.value === value)?.label ?? value
    return said ? [`${label}: ${said}`] : []
  })
