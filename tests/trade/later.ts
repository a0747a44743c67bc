/** Cases of the collection that speak of what the service does not do yet, each with the reason. */
export const later: readonly { id: string; why: string }[] = [
  { id: "TR-12", why: "a thread judged by GO and NO-GO" },
  { id: "TR-13", why: "a thread judged by GO and NO-GO" },
  { id: "PS-01", why: "position and work offset" },
  { id: "PS-03", why: "position: a part turned in the fixture" },
  { id: "PS-06", why: "position with bonus tolerance" },
  { id: "PS-09", why: "position with bonus tolerance" },
  { id: "DS-08", why: "position of a hole as a kind of feature; repair can be decided on its piece" },
  { id: "GA-07", why: "NO-GO of a thread by the standard on the drawing" },
  { id: "FQ-07", why: "capability index" },
  { id: "RC-01", why: "first-article record" },
  { id: "RC-03", why: "first-article record" },
];
