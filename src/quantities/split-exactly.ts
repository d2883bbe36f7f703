import { nth } from '../lookups/nth.ts'

/**
 * Divides a whole total by whole weights into whole parts that add up exactly (largest remainder; of equal remainders
 * the first has it). Undefined where all weights are zero. Numbers up to 2^53; the products are made without loss.
 */
export function splitExactly(total: number, weights: readonly number[]): number[] | undefined {
  const sum = weights.reduce((a, b) => a + b, 0)
  if (sum === 0) return undefined
  // With both below, every product and sum is a whole number that a double holds.
  const isSmall = Math.abs(total) * sum <= Number.MAX_SAFE_INTEGER && weights.every((weight) => weight >= 0)
  return isSmall ? splitSmall(total, weights, sum) : splitLarge(total, weights)
}

function splitSmall(total: number, weights: readonly number[], sum: number): number[] {
  const rests = weights.map((weight) => (total * weight) % sum)
  const parts = weights.map((weight, i) => (total * weight - nth(rests, i)) / sum)
  const left = total - parts.reduce((a, part) => a + part, 0)
  if (left <= 0) return parts
  const byRest = weights.map((_, i) => i).sort((a, b) => nth(rests, b) - nth(rests, a) || a - b)
  for (const i of byRest.slice(0, left)) parts[i] = nth(parts, i) + 1
  return parts
}

function splitLarge(total: number, weights: readonly number[]): number[] {
  const sum = weights.reduce((a, b) => a + BigInt(b), 0n)
  const shares = weights.map((weight, position) => {
    const product = BigInt(total) * BigInt(weight)
    return { position, part: Number(product / sum), rest: product % sum }
  })
  let left = total - shares.reduce((a, share) => a + share.part, 0)
  const byRest = [...shares].sort((a, b) => (a.rest === b.rest ? a.position - b.position : a.rest > b.rest ? -1 : 1))
  for (const share of byRest) if (left-- > 0) share.part += 1
  return shares.map((share) => share.part)
}

/** `total` x part / whole, rounded half up, without loss. */
export function proportion(total: number, part: number, whole: number): number {
  const [t, p, w] = [BigInt(total), BigInt(part), BigInt(whole)]
  return Number((2n * t * p + w) / (2n * w))
}
