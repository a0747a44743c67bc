import { z } from "zod";
import { featureKinds, geometricCharacteristics } from "../../../core/feature-kind.js";
import { exampleOf } from "../../../decision/wire.js";
import { pageOf, pageQuery } from "../../../http/pagination.js";
import { Id, Name, strict, Text, Unit } from "../../../http/types.js";
import { Part, PartCreate } from "../schemas.js";

const angleUnits = ["deg", "arcmin", "arcsec", "rad"] as const;

export const PartDocumentQuery = strict({
  unit: Unit.optional().describe("Unit of lengths where the document says none; what it says counts more"),
  angle_unit: z.enum(angleUnits).optional().describe("Unit of angles where the document says none"),
  layout_id: Id.optional().describe(
    "How a file of another format is read: any log layout, whose readings say what each should be; absent: the body is a QIF document",
  ),
  layout: Name.optional().describe("Or the layout's name"),
  source: Name.optional().describe("What people know the document by"),
}).refine(({ layout_id, layout }) => layout_id === undefined || layout === undefined, {
  path: ["layout"],
  message: "stands beside layout_id: leave one out",
});

const size = (description: string) => z.string().nullable().describe(description);

const ProposedFeature = z.strictObject({
  item: z
    .string()
    .describe(
      "Id of the characteristic in the document, or its name in a file read by a layout; for `features` when it is accepted",
    ),
  type: z
    .string()
    .describe(
      "What the document calls it, such as Diameter; of a file read by a layout: size, angle, position, result or count",
    ),
  characteristic: z.string().describe("Its balloon number; its name where the document has none"),
  name: z.string().nullable().describe("Its name, where that is another text"),
  kind: z.enum(featureKinds).nullable().describe("Its kind; null: the document leaves open which of `kinds`"),
  kinds: z.array(z.enum(featureKinds)).describe("What it can be"),
  geometric_characteristic: z.enum(geometricCharacteristics).nullable().describe("Of a form, which one"),
  places: z
    .array(z.string())
    .optional()
    .describe(
      "Places at which it is measured, where the document has it on several features; absent: on one",
    ),
  nominal: size("Nominal size in the part's unit, an angle in degrees; null: it has none"),
  lower_limit: size("Lower limit; null: none"),
  upper_limit: size("Upper limit; null: none"),
  missing: z
    .array(z.enum(["kind", "limits"]))
    .describe("What a person has to say before it can be a feature"),
  notes: z.array(z.string()).describe("What is odd about it"),
});

const Difference = z.strictObject({
  characteristic: z.string().describe("Balloon number"),
  what: z.string().describe("In what document and part differ"),
});

export const PartProposal = z
  .strictObject({
    proposal_id: z.string().describe("Identity of the proposal"),
    status: z.enum(["open", "accepted", "declined"]).describe("Whether a person has decided about it"),
    source: z.string().nullable().describe("What people know the document by"),
    number: z.string().nullable().describe("Drawing number in the document; null: it gives none"),
    revision: z.string().nullable().describe("Its revision"),
    name: z.string().nullable().describe("What the document calls the part"),
    unit: z.enum(["mm", "inch"]).describe("Unit that the part would have"),
    features: z.array(ProposedFeature).describe("What would be its features, in the order of the document"),
    left_out: z
      .array(
        z.strictObject({
          item: z.string().describe("Id in the document"),
          type: z.string().describe("What the document calls it"),
          name: z.string().describe("Its name"),
          reason: z.string().describe("Why it can't be a feature here"),
        }),
      )
      .describe("Characteristics that can't be features"),
    known_part: z
      .strictObject({
        part_id: z.string().describe("The part"),
        number: z.string().describe("Its drawing number"),
        revision: z.string().describe("Its revision"),
        found_by: z
          .enum(["number", "earlier_document"])
          .describe("By its number, or by an earlier document of it that a person has accepted"),
        differs: z.array(Difference).describe("In what the document differs from it; empty: in nothing"),
      })
      .nullable()
      .describe(
        "The part that is known already: its readings can be imported as they are; limits that differ want a new revision. Null: none is",
      ),
    part_id: z.string().nullable().describe("The part that was made of it; null: not yet"),
    by: z.string().nullable().describe("Who decided"),
    reason: z.string().nullable().describe("Why it was declined"),
    created_at: z.iso.datetime().describe("When it came"),
    decided_at: z.iso.datetime().nullable().describe("When it was decided"),
  })
  .meta({
    id: "PartProposal",
    description: "What a document says of a part, for a person to accept",
    examples: [
      {
        proposal_id: "3",
        status: "open",
        source: "measuring room",
        number: "HB-2041",
        revision: "B",
        name: "Hinge bracket",
        unit: "mm",
        features: [
          {
            item: "23",
            type: "Diameter",
            characteristic: "12",
            name: "BORE_A",
            kind: null,
            kinds: ["external", "internal"],
            geometric_characteristic: null,
            nominal: "12",
            lower_limit: "11.95",
            upper_limit: "12.05",
            missing: ["kind"],
            notes: [],
          },
        ],
        left_out: [
          {
            item: "31",
            type: "Thread",
            name: "M6",
            reason: "a characteristic of type Thread has no kind here",
          },
        ],
        known_part: null,
        part_id: null,
        by: null,
        reason: null,
        created_at: "2026-03-02T07:41:00.000Z",
        decided_at: null,
      },
    ],
  });
export type PartProposal = z.infer<typeof PartProposal>;

export const PartProposalList = pageOf("PartProposalList", PartProposal, "newest first");
export const PartProposalPath = strict({ proposal_id: Id.describe("The proposal") });
export const PartProposalQuery = strict({
  ...pageQuery,
  status: z.enum(["open", "accepted", "declined"]).optional().describe("Only those that stand so"),
});

export const PartProposalDecline = strict({
  reason: Text.describe("Why"),
  by: Name.nullish().describe("Who says so"),
}).meta({
  id: "PartProposalDecline",
  description: "A person's no to a proposed part",
  examples: [{ reason: "revision C is valid by now", by: "R. Stone" }],
});

/** What a person says of a proposed feature counts more than what the document says; it is checked with the whole part. */
const Choice = z
  .looseObject({
    item: Name.describe("Which of the proposed features; ids of the document"),
    leave_out: z.boolean().default(false).describe("True: it does not become a feature"),
  })
  .describe(
    "One proposed feature: beside `item` any member of FeatureCreate, which counts more than the document, such as `kind`, `cut_by` or `operation`",
  );

export const PartProposalAccept = strict({
  by: Name.describe("Who has compared it with the drawing"),
  number: Name.nullish().describe("Drawing number; absent: the document's"),
  revision: Name.nullish().describe("Revision; absent: the document's"),
  name: Name.nullish().describe("What the part is called; absent: as in the document"),
  decision_rule: PartCreate.shape.decision_rule,
  general_tolerance: PartCreate.shape.general_tolerance,
  material: PartCreate.shape.material,
  features: z
    .array(Choice)
    .max(1000)
    .default([])
    .describe("What the document leaves open, or says otherwise; those not named here are taken as proposed"),
}).meta({
  id: "PartProposalAccept",
  description: "A person's yes to a proposed part, with what the document leaves open",
  examples: [
    {
      by: "R. Stone",
      number: "HB-2041",
      revision: "B",
      name: null,
      decision_rule: "simple",
      general_tolerance: null,
      material: "aluminium",
      features: [{ item: "23", kind: "internal", leave_out: false }],
    },
  ],
});
export type PartProposalAccept = z.infer<typeof PartProposalAccept>;

export const PartAccepted = z
  .strictObject({ proposal: PartProposal, part: Part.describe("The part as it is kept") })
  .meta({
    id: "PartAccepted",
    description: "A proposal that was accepted, with its part",
    examples: [{ proposal: exampleOf(PartProposal), part: exampleOf(Part) }],
  });
