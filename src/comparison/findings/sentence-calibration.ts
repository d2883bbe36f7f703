import type { LayoutLine } from './layout-calibration.ts'

/** How often the first sentence of the summary, which is of the weight, was contradicted by the truth it names. */
export interface SentenceLine extends Pick<LayoutLine, 'layout' | 'how' | 'units' | 'methodBySeason' | 'trials'> {
  /** Share that told the two apart. */
  readonly told: number
  /** Share whose range did not hold the truth. */
  readonly outside: number
  /** Share that told more where the truth was less, or less where it was more. */
  readonly wrongSide: number
}

/** Written by npm run simulate:sentences, over the trials of layout-calibration.ts. */
export const sentenceCalibration: readonly SentenceLine[] = (
  [
    ['one garden a method', 'choice', 1, 0, 1000, 0.221, 0.049, 0.004],
    ['one garden a method', 'choice', 1, 0.06, 1000, 0.235, 0.054, 0.004],
    ['one garden a method', 'choice', 1, 0.12, 1000, 0.212, 0.055, 0.005],
    ['gardens', 'random', 2, 0, 1000, 0.044, 0.044, 0],
    ['gardens', 'random', 2, 0.06, 1000, 0.05, 0.049, 0.02],
    ['gardens', 'random', 2, 0.12, 1000, 0.061, 0.049, 0.014],
    ['gardens', 'random', 3, 0, 1000, 0.045, 0.045, 0],
    ['gardens', 'random', 3, 0.06, 1000, 0.057, 0.051, 0.022],
    ['gardens', 'random', 3, 0.12, 1000, 0.065, 0.048, 0.011],
    ['gardens', 'random', 4, 0, 1000, 0.033, 0.033, 0],
    ['gardens', 'random', 4, 0.06, 1000, 0.048, 0.042, 0.016],
    ['gardens', 'random', 4, 0.12, 1000, 0.076, 0.06, 0.012],
    ['gardens', 'random', 6, 0, 1000, 0.061, 0.061, 0],
    ['gardens', 'random', 6, 0.06, 1000, 0.05, 0.044, 0.01],
    ['gardens', 'random', 6, 0.12, 1000, 0.099, 0.05, 0.01],
    ['gardens', 'choice', 2, 0, 1000, 0.068, 0.068, 0],
    ['gardens', 'choice', 2, 0.06, 1000, 0.089, 0.089, 0.037],
    ['gardens', 'choice', 2, 0.12, 1000, 0.076, 0.073, 0.03],
    ['gardens', 'choice', 3, 0, 1000, 0.116, 0.116, 0],
    ['gardens', 'choice', 3, 0.06, 1000, 0.123, 0.118, 0.047],
    ['gardens', 'choice', 3, 0.12, 1000, 0.135, 0.108, 0.033],
    ['gardens', 'choice', 4, 0, 1000, 0.162, 0.162, 0],
    ['gardens', 'choice', 4, 0.06, 1000, 0.165, 0.163, 0.064],
    ['gardens', 'choice', 4, 0.12, 1000, 0.22, 0.194, 0.048],
    ['gardens', 'choice', 6, 0, 1000, 0.257, 0.257, 0],
    ['gardens', 'choice', 6, 0.06, 1000, 0.309, 0.298, 0.104],
    ['gardens', 'choice', 6, 0.12, 1000, 0.3, 0.279, 0.07],
    ['split gardens', 'random', 3, 0, 1000, 0.049, 0.049, 0],
    ['split gardens', 'random', 3, 0.06, 1000, 0.051, 0.039, 0.012],
    ['split gardens', 'random', 3, 0.12, 1000, 0.06, 0.042, 0.008],
    ['split gardens', 'random', 6, 0, 1000, 0.055, 0.055, 0],
    ['split gardens', 'random', 6, 0.06, 1000, 0.064, 0.042, 0.005],
    ['split gardens', 'random', 6, 0.12, 1000, 0.144, 0.063, 0.008],
    ['blocks of beds', 'random', 3, 0, 1000, 0.047, 0.047, 0],
    ['blocks of beds', 'random', 3, 0.06, 1000, 0.054, 0.043, 0.013],
    ['blocks of beds', 'random', 3, 0.12, 1000, 0.063, 0.049, 0.007],
    ['blocks of beds', 'random', 6, 0, 1000, 0.049, 0.049, 0],
    ['blocks of beds', 'random', 6, 0.06, 1000, 0.066, 0.05, 0.013],
    ['blocks of beds', 'random', 6, 0.12, 1000, 0.147, 0.047, 0.005],
    ['swapped gardens', 'random', 2, 0, 1000, 0.056, 0.056, 0],
    ['swapped gardens', 'random', 2, 0.06, 1000, 0.056, 0.049, 0.015],
    ['swapped gardens', 'random', 2, 0.12, 1000, 0.055, 0.047, 0.009],
    ['swapped gardens', 'random', 4, 0, 1000, 0.048, 0.048, 0],
    ['swapped gardens', 'random', 4, 0.06, 1000, 0.059, 0.041, 0.009],
    ['swapped gardens', 'random', 4, 0.12, 1000, 0.11, 0.04, 0.006],
  ] as const
).map(([layout, how, units, methodBySeason, trials, told, outside, wrongSide]) => ({
  layout,
  how,
  units,
  methodBySeason,
  trials,
  told,
  outside,
  wrongSide,
}))
