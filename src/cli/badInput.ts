/** Something the person typed is wrong. The message says what, where, and what would be right; nothing has been written. */
export class BadInput extends Error {}
