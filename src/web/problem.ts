/** What stops a request, with the status it answers; the words for each stand in the catalogue under `problem`. */
export class Problem extends Error {
  readonly statusCode: number
  readonly kind: ProblemKind
  constructor(kind: ProblemKind) {
    super(kind)
    this.kind = kind
    this.statusCode = statusOf[kind]
  }
}

export const statusOf = {
  'not-found': 404,
  'lets-nobody-in': 404,
  'keepers-only': 403,
  'recorders-only': 403,
  'only-looking': 403,
  'factor-first': 403,
  'foreign-form': 403,
  'too-often': 429,
  'sign-in-first': 401,
  'changed-meanwhile': 409,
  'other-person': 409,
  'against-rules': 422,
  'unreadable-report': 422,
  'bad-request': 400,
  broken: 500,
  away: 503,
  'no-room': 507,
} as const

export type ProblemKind = keyof typeof statusOf

export const notFound = () => new Problem('not-found')
