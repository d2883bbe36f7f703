/** What was picked within so many weeks before a week counts as picked lately, and comes first in it. */
export const weeksOfLately = 3
