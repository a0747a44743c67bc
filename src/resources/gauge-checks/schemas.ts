import { z } from "zod";
import { exampleOf } from "../../decision/wire.js";
import { Voided } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import {
  Id,
  Instant,
  LengthFromZero,
  Name,
  PositiveLength,
  ReadingValue,
  strict,
  Text,
} from "../../http/types.js";

const GivenUnit = z.enum(
  ["mm", "inch", "in", "um", "\u00b5m", "\u03bcm", "deg", "arcmin", "arcsec"],
  'must be "mm", "inch" or "um", of a gauge of angles "deg", "arcmin" or "arcsec", beside every value',
);
const State = z.enum(["fit", "off"]);

const words = {
  at: "When it was checked",
  standard: "Size of the standard: gauge block, setting ring or master",
  standard_uncertainty: "Expanded uncertainty (k = 2) of the standard by its certificate",
  reading: "What the gauge showed on it; for a gauge that shows a deviation that deviation",
  largest_error:
    "Instead of standard and reading, as after a calibration elsewhere: the largest error found, of which the direction is not known",
  shift:
    "The error is taken off what the gauge reads from `at` on, until its next check: for readings that come after this check has been entered",
};

export const GaugeCheckCreate = strict({
  at: Instant.optional().describe(`${words.at}; absent: now`),
  standard: PositiveLength.optional().describe(words.standard),
  standard_uncertainty: LengthFromZero.optional().describe(
    `${words.standard_uncertainty}; absent: taken as exact`,
  ),
  reading: ReadingValue.optional().describe(words.reading),
  largest_error: PositiveLength.optional().describe(words.largest_error),
  unit: GivenUnit.describe(
    "Unit of all sizes here: mm, um or inch, of a gauge of angles deg, arcmin or arcsec",
  ),
  shift: z.boolean().default(false).describe(words.shift),
  note: Text.nullish().describe("What is worth keeping about it"),
  by: Name.nullish().describe("Who checked it"),
})
  .superRefine((check, context) => {
    const refuse = (field: string, message: string) =>
      context.addIssue({ code: "custom", path: [field], message });
    if (check.largest_error === undefined) {
      for (const field of ["standard", "reading"] as const) {
        if (check[field] === undefined)
          refuse(
            field,
            'is missing: send "standard" and "reading", or "largest_error" alone where the direction is not known',
          );
      }
      return;
    }
    for (const field of ["standard", "standard_uncertainty", "reading"] as const) {
      if (check[field] !== undefined)
        refuse(field, 'does not go with "largest_error": leave out one of the two');
    }
    if (check.shift)
      refuse("shift", "needs the direction of the error: send standard and reading, or leave it out");
  })
  .meta({
    id: "GaugeCheckCreate",
    description: "A gauge read on a standard",
    examples: [{ at: "2026-03-02T06:00:00Z", standard: 25, reading: 25.003, unit: "mm", by: "shift A" }],
  });
export type GaugeCheckCreate = z.infer<typeof GaugeCheckCreate>;

const Unit = z.enum(["mm", "µm", "inch", "deg", "arcmin", "arcsec"]);

export const GaugeCheck = z
  .strictObject({
    gauge_check_id: z.string().describe("Identity of the check"),
    gauge_id: z.string().describe("The gauge"),
    at: z.iso.datetime().describe(words.at),
    unit: Unit.describe("Unit of all sizes here, as they came"),
    standard: z.number().nullable().describe(words.standard),
    standard_uncertainty: z.number().describe(words.standard_uncertainty),
    reading: z.number().nullable().describe(words.reading),
    error: z.number().describe("Reading less standard; the largest error where its direction is not known"),
    direction_known: z.boolean().describe("False: the error may be either way"),
    allowed_error: z
      .number()
      .describe(
        "Up to this an error says nothing: expanded uncertainties of gauge and standard in quadrature, at least one step of the display",
      ),
    state: State.describe("`off`: the error is above the allowed one"),
    shift: z.boolean().describe(words.shift),
    why: z.string().describe("The same in words, and what to do"),
    note: z.string().nullable().describe("What is worth keeping about it"),
    by: z.string().nullable().describe("Who checked it"),
    created_at: z.iso.datetime().describe("When it was entered"),
    voided: Voided,
  })
  .meta({
    id: "GaugeCheck",
    description: "A gauge read on a standard, and what that says of it",
    examples: [
      {
        gauge_check_id: "4",
        gauge_id: "5",
        at: "2026-03-02T06:00:00.000Z",
        unit: "mm",
        standard: 25,
        standard_uncertainty: 0,
        reading: 25.003,
        error: 0.003,
        direction_known: true,
        allowed_error: 0.003,
        state: "fit",
        shift: false,
        why: "micrometer 0-25 no. 3 reads 0.003 mm too big on 25.000 mm; up to 0.003 mm is what its uncertainty leaves open: fit.",
        note: null,
        by: "shift A",
        created_at: "2026-03-02T06:00:10.000Z",
        voided: null,
      },
    ],
  });
export type GaugeCheck = z.infer<typeof GaugeCheck>;

const InDoubt = z
  .strictObject({
    since: z.iso
      .datetime()
      .nullable()
      .describe("The check before this one; null: there was none, so everything that the gauge has read"),
    readings: z.number().int().describe("How many readings are in doubt (flag `gauge_in_doubt`)"),
    turned: z
      .number()
      .int()
      .describe(
        "How many of them change sides: inside the limits with the error, outside without, or the other way",
      ),
    open: z
      .number()
      .int()
      .describe("How many of them may be inside or outside, as the direction is not known"),
    batches: z
      .array(
        z.strictObject({
          batch_id: z.string().describe("Batch"),
          batch: z.string().describe("Its name"),
          part_number: z.string().describe("Its part"),
          revision: z.string().describe("Revision of the part"),
          readings: z.number().int().describe("Readings in doubt"),
          pieces: z.number().int().describe("Pieces that they are of"),
          first_piece: z.number().int().describe("First of them"),
          last_piece: z.number().int().describe("Last of them"),
          turned: z.number().int().describe("Readings that change sides"),
          open: z.number().int().describe("Readings that may be inside or outside"),
          closed: z.boolean().describe("True: its pieces may have left the shop"),
        }),
      )
      .describe("Batches that they are in, latest first; at most 100"),
    more_batches: z.number().int().describe("How many batches there are besides"),
  })
  .describe("What the check leaves in doubt; GET …/checks/{gauge_check_id}/readings lists the readings");

export const GaugeCheckAnswer = z.strictObject({ ...GaugeCheck.shape, in_doubt: InDoubt }).meta({
  id: "GaugeCheckAnswer",
  description: "A check of a gauge with what it leaves in doubt",
  examples: [
    {
      ...(exampleOf(GaugeCheck) as object),
      in_doubt: { since: null, readings: 0, turned: 0, open: 0, batches: [], more_batches: 0 },
    },
  ],
});

export const DoubtedReading = z
  .strictObject({
    reading_id: z.string().describe("Identity of the reading"),
    batch_id: z.string().describe("Batch"),
    piece: z.number().int().describe("Piece"),
    cut: z.number().int().describe("Cut of it"),
    feature_id: z.string().describe("Feature"),
    characteristic: z.string().describe("Its balloon number"),
    place: z.string().nullable().describe("Where on it; null: it has no places"),
    taken_at: z.iso.datetime().describe("When it was taken, else when it came"),
    unit: z.enum(["mm", "inch", "deg", "µm", "µin"]).describe("Unit of the sizes: the feature's"),
    size: z.number().describe("The size that was kept"),
    lower_limit: z.number().nullable().describe("Lower limit of size"),
    upper_limit: z.number().nullable().describe("Upper limit of size"),
    size_from: z.number().describe("By the error found the size is at least this"),
    size_to: z.number().describe("And at most this; the same where the direction of the error is known"),
    outcome: z
      .enum(["stands", "turns", "open"])
      .describe(
        "`stands`: on the same side of the limits as before. `turns`: on the other. `open`: either may be; measure it again",
      ),
  })
  .meta({
    id: "DoubtedReading",
    description: "A reading by a gauge that was found off, judged again",
    examples: [
      {
        reading_id: "3-1",
        batch_id: "3",
        piece: 12,
        cut: 1,
        feature_id: "12",
        characteristic: "12",
        place: null,
        taken_at: "2026-03-02T07:41:00.000Z",
        unit: "mm",
        size: 6.052,
        lower_limit: 5.95,
        upper_limit: 6.05,
        size_from: 6.046,
        size_to: 6.046,
        outcome: "turns",
      },
    ],
  });
export type DoubtedReading = z.infer<typeof DoubtedReading>;

export const ChecksPath = strict({ gauge_id: Id.describe("Identity of the gauge") });
export const CheckPath = strict({
  gauge_id: Id.describe("Identity of the gauge"),
  gauge_check_id: Id.describe("Identity of the check"),
});
export const CheckQuery = strict(pageQuery);
export const GaugeCheckList = pageOf("GaugeCheckList", GaugeCheck, "latest first");
export const DoubtedReadingList = pageOf("DoubtedReadingList", DoubtedReading);
