import type { Shift } from "./shift.js";
import type { Teller } from "./tell.js";

/** What this program reads of a proposal. */
interface Proposal {
  proposal_id: string;
  items: {
    item: number;
    says: string;
    cautions: string[];
    changes: { field: string; from: number | string | null; to: number | string; unit: string | null }[];
  }[];
}

/** What mill 1 publishes of its tool 7: MTConnect, a standard that many machines speak. */
const published = `<?xml version="1.0" encoding="UTF-8"?>
<MTConnectAssets xmlns="urn:mtconnect.org:MTConnectAssets:1.4">
  <Assets>
    <CuttingTool assetId="EM10.4" toolId="EM10" serialNumber="4">
      <CuttingToolLifeCycle>
        <CutterStatus><Status>USED</Status></CutterStatus>
        <ToolLife type="PART_COUNT" countDirection="UP" limit="350" warning="330">335</ToolLife>
        <ProgramToolNumber>7</ProgramToolNumber>
        <Measurements>
          <CuttingDiameterMax code="DC" nominal="10" minimum="9.97" maximum="10.01" units="MILLIMETER">9.964</CuttingDiameterMax>
        </Measurements>
      </CuttingToolLifeCycle>
    </CuttingTool>
  </Assets>
</MTConnectAssets>
`;

/** A machine's document proposes, a person accepts one thing of it, and sent again it proposes that no more. */
export async function readToolDocument(shift: Shift, tell: Teller): Promise<void> {
  const { shop, client } = shift;
  const path = `/v1/machines/${shop.machines.mill.machine_id}/tool-documents?source=mill+1`;
  const { proposal_id, items } = await client.upload<Proposal>(path, published);
  const [item] = items;
  tell.mark("file", item!.says);
  for (const { field, from, to } of item!.changes) tell.say(`${field}: from ${from ?? "nothing"} to ${to}`);
  tell.list(item!.cautions);
  const choices = [{ item: item!.item, fields: ["life_pieces"] }];
  await client.post(`/v1/tool-proposals/${proposal_id}/accept`, { choices, by: "shift A" });
  const again = await client.upload<Proposal>(path, published);
  const left = again.items[0]!.changes.map(({ field }) => field);
  shift.holds(!left.includes("life_pieces"), "what was accepted may not be proposed again");
  tell.say("Shift A accepts the life, and nothing else. Nothing was changed before that yes.");
}
