import { textAsked, textSent } from '../web/query-of.ts'
import { withinHere } from './within-here.ts'

interface Asking {
  readonly method: string
  readonly query: unknown
  readonly body: unknown
}

/** Where whoever is led through these pages goes on afterwards; empty where they came by themselves. */
export function nextIn(request: Asking): string {
  const next = request.method === 'GET' ? textAsked(request, 'next') : textSent(request.body, 'next')
  return next ? withinHere(next) : ''
}

/** Carries it on to the next of these pages. */
export const onward = (next: string): string => (next ? `?next=${encodeURIComponent(next)}` : '')
