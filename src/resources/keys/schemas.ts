import { z } from "zod";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { roles } from "../../http/roles.js";
import { Id, Name, strict } from "../../http/types.js";

const role = z
  .enum(roles)
  .describe(
    "`uploader` sends readings and files; `operator` also reads everything and corrects, opens and closes batches; `engineer` also edits machines, tools, gauges, parts; `admin` also keys",
  );

export const KeyCreate = strict({
  name: Name.describe("Who or what has it, such as a person or a machine's computer; stands in what it does"),
  role,
}).meta({
  id: "KeyCreate",
  description: "A key to be made",
  examples: [{ name: "computer at mill-2", role: "uploader" }],
});

const example = {
  key_id: "3",
  name: "computer at mill-2",
  role: "uploader" as const,
  prefix: "onsize_5b1f0c93aa",
  created_at: "2026-03-02T07:41:00.000Z",
  created_by: "ONSIZE_ADMIN_KEY",
  last_used_at: null,
  revoked_at: null,
  revoked_by: null,
};

const members = {
  key_id: z.string().describe("Its identity"),
  name: z.string().describe("Who or what has it"),
  role,
  prefix: z.string().describe("How it begins, by which it is told from others"),
  created_at: z.iso.datetime().describe("When it was made"),
  created_by: z.string().nullable().describe("Name of the key that made it; null: the command line"),
  last_used_at: z.iso.datetime().nullable().describe("When it was last used, to the minute; null: never"),
  revoked_at: z.iso.datetime().nullable().describe("When it was revoked; null: it counts"),
  revoked_by: z.string().nullable().describe("Name of the key that revoked it; null: the command line"),
};

export const Key = z.strictObject(members).meta({
  id: "Key",
  description: "A key, without its secret",
  examples: [example],
});

export const NewKey = z
  .strictObject({
    ...members,
    key: z
      .string()
      .nullable()
      .describe(
        "The key itself, this one time: nothing of it is kept that it could be read from. Null where the request was sent again",
      ),
  })
  .meta({
    id: "NewKey",
    description: "A key that was just made",
    examples: [{ ...example, key: "onsize_5b1f0c93aa_<43 characters>" }],
  });

export const KeyList = pageOf("KeyList", Key);
export const KeyQuery = strict(pageQuery);
export const KeyPath = strict({ key_id: Id.describe("Which key") });
