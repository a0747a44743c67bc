/** Cases of the collection that speak of what the service does not do yet, each with the reason. */
export const later: readonly { id: string; why: string }[] = [];
