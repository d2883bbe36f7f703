/** From what is allowed least to what is allowed most. */
export const roles = ['reader', 'recorder', 'keeper'] as const

/** What a person is in a group. */
export type Role = (typeof roles)[number]

export const mayOpen = (role: Role, least: Role) => roles.indexOf(role) >= roles.indexOf(least)
