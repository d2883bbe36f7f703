import type { z } from 'zod'

export type Typed = Readonly<Record<string, unknown>>

export interface RefusedForm {
  readonly kind: 'refused'
  readonly errors: Record<string, string>
  readonly typed: Typed
}

export type FormAnswer<T> = { readonly kind: 'answer'; readonly value: T } | RefusedForm

/** Strings to values: a refusal carries the first message of each field and all that was typed. */
export function readForm<T>(schema: z.ZodType<T>, body: unknown): FormAnswer<T> {
  const typed = (body ?? {}) as Typed
  const read = schema.safeParse(typed)
  if (read.success) return { kind: 'answer', value: read.data }
  const errors: Record<string, string> = {}
  for (const issue of read.error.issues) errors[issue.path.join('.')] ??= issue.message
  return { kind: 'refused', errors, typed }
}

export function refuseForm(typed: unknown, errors: Record<string, string>): RefusedForm {
  return { kind: 'refused', errors, typed: (typed ?? {}) as Typed }
}

/** The form that an address asks to have open: "?form=sites". */
export const formAsked = (request: { readonly query: unknown }): string =>
  String((request.query as { form?: unknown } | undefined)?.form ?? '')
