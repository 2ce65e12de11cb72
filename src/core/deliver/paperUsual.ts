/** The longest side of a PDF page that readers agree on: 14,400 units of 1/72 in. */
export const PAPER_SIDE_MAX_MM = 5080
/** The least side that can be set; common practice, no source. */
export const PAPER_SIDE_MIN_MM = 100

/** What printers cannot reach at each side, and how far sheets overlap, when nothing is said. Common practice, no source. */
export const USUAL_MARGIN_MM = 6
export const USUAL_OVERLAP_MM = 10
