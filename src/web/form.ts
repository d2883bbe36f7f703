import type { z } from 'zod'
import { newId } from '../db/new-id.ts'
import type { Stored } from '../db/store-once.ts'
import { sent } from '../lookups/unsaid.ts'
import { fieldsOf, textAsked } from './query-of.ts'
import { wordsHere } from './words-here.ts'

export type Typed = Readonly<Record<string, unknown>>

export interface RefusedForm {
  readonly kind: 'refused'
  readonly errors: Record<string, string>
  readonly typed: Typed
}

export type FormAnswer<T> = { readonly kind: 'answer'; readonly value: T } | RefusedForm

/** Strings to values: a refusal carries the first message of each field and all that was typed. */
export function readForm<T>(schema: z.ZodType<T>, body: unknown): FormAnswer<T> {
  const typed = fieldsOf(body)
  const read = schema.safeParse(typed)
  if (read.success) return { kind: 'answer', value: read.data }
  const errors: Record<string, string> = {}
  for (const issue of read.error.issues) errors[issue.path.join('.')] ??= issue.message
  return { kind: 'refused', errors, typed }
}

/** The form as it was typed; with an id of its own from now on where another entry stands under the one it had. */
export function refuseForm(body: unknown, errors: Record<string, string>): RefusedForm {
  const typed = fieldsOf(body)
  return { kind: 'refused', errors, typed: errors.id === undefined ? typed : { ...typed, id: newId() } }
}

/**
 * The sentence where another entry stands under the id of a form: what was typed is stored when it is sent once more.
 */
export const saidOf = (stored: Stored): Record<string, string> | undefined =>
  stored === 'another' ? { id: wordsHere().correcting.anotherEntry } : undefined

/** The form that an address asks to have open: "?form=sites". */
export const formAsked = (request: { readonly query: unknown }): string => sent(textAsked(request, 'form'))
