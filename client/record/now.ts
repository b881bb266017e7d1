/** The visit that is live. */
export interface LiveNow {
  /** Its id in the record, null where it has none yet. */
  id: string | null;
  title: string;
}
