/** From what is allowed least to what is allowed most. */
export const roles = ['reader', 'recorder', 'keeper'] as const

/** What a person is in a group. */
export type Role = (typeof roles)[number]

const rank: Record<Role, number> = { reader: 1, recorder: 2, keeper: 3 }

export const mayOpen = (role: Role, least: Role) => rank[role] >= rank[least]
