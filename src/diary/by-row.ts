/**
 * Which weighings and entries of hours are read one by one: all; or those that several plantings or places share, with
 * all of some seasons.
 */
export type ByRow = 'all' | readonly string[]
