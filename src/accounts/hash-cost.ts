/**
 * Whether a stored hash is one that this service could have made, or not much dearer: what is checked when someone
 * types a secret is as dear as the hash itself says, and a package can bring any. Most: 64 MiB, four passes, four
 * lanes.
 */
export function isAffordable(hash: string): boolean {
  const found = /^\$argon2id\$v=19\$m=(\d{1,6}),t=(\d),p=(\d)\$[\w+/]{11,88}\$[\w+/]{22,88}$/.exec(hash)
  const [memory, passes, lanes] = (found ?? []).slice(1).map(Number)
  if (memory === undefined || passes === undefined || lanes === undefined) return false
  return memory <= 65_536 && passes <= 4 && lanes <= 4
}
