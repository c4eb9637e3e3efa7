/** The present instant, passed in so that everything below can be run at any time of the year. */
export type Clock = () => Date
