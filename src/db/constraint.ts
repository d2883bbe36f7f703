/** The constraint that refused a write, empty where none did: drizzle wraps the engine's error as its cause. */
export function constraintOf(error: unknown): string {
  return fieldOf(error, 'constraint')
}

/** The code that the engine or the system gave an error, empty where it has none. */
export function codeOf(error: unknown): string {
  return fieldOf(error, 'code')
}

function fieldOf(error: unknown, field: 'constraint' | 'code'): string {
  for (let at: unknown = error; at instanceof Error; at = at.cause) {
    const value: unknown = Reflect.get(at, field)
    if (typeof value === 'string') return value
  }
  return ''
}
