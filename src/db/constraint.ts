/** The name of the constraint that refused a write, or undefined: drizzle wraps the engine's error as its cause. */
export function constraintOf(error: unknown): string | undefined {
  return fieldOf(error, 'constraint')
}

export function codeOf(error: unknown): string | undefined {
  return fieldOf(error, 'code')
}

function fieldOf(error: unknown, field: 'constraint' | 'code'): string | undefined {
  for (let at: unknown = error; at instanceof Error; at = at.cause) {
    const value: unknown = Reflect.get(at, field)
    if (typeof value === 'string') return value
  }
  return undefined
}
