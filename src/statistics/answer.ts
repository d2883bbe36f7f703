/** What a statistical function gives: figures, or the reason why these data carry none. Never NaN, never a throw. */
export type Answer<T> = { readonly kind: 'answer' } & Readonly<T>

export interface Refusal {
  readonly kind: 'refused'
  readonly reason: RefusalReason
  /** The figure or name that speaks against it. */
  readonly detail: string
}

export type RefusalReason =
  | 'too few'
  | 'no variation'
  | 'zero total'
  | 'zero mean'
  | 'unbounded'
  | 'nothing in common'
  | 'not a number'
  | 'out of range'
  | 'no error term'
  | 'aliased'
  | 'incomplete'
  | 'did not converge'
  | 'only divided'

export const refused = (reason: RefusalReason, detail: string): Refusal => ({ kind: 'refused', reason, detail })
export const answer = <T extends object>(figures: T): Answer<T> => ({ kind: 'answer', ...figures })
