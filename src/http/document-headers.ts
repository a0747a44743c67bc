export type DocumentFormat = "json" | "html" | "pdf" | "csv" | "qif";

const types = {
  json: "application/json; charset=utf-8",
  html: "text/html; charset=utf-8",
  csv: "text/csv; charset=utf-8",
  pdf: "application/pdf",
  qif: "application/xml; charset=utf-8",
} as const;

/** Headers of a document that is sent as a file, or as a page that runs and fetches nothing. */
export function documentHeaders(format: DocumentFormat, name: string): Record<string, string> {
  return {
    "content-type": types[format],
    "x-content-type-options": "nosniff",
    ...(format !== "json" && {
      "content-disposition": `${format === "html" ? "inline" : "attachment"}; ${fileName(name, format)}`,
    }),
    ...(format === "html" && {
      "content-security-policy": "default-src 'none'; style-src 'unsafe-inline'",
    }),
  };
}

/** RFC 6266: a plain name for old clients, the true one for all others. */
function fileName(name: string, format: string): string {
  const plain = name.replace(/[^\w.-]+/g, "-").slice(0, 60);
  const exact = encodeURIComponent(`${name}.${format}`).replace(
    /['()*]/g,
    (character) => `%${character.charCodeAt(0).toString(16)}`,
  );
  return `filename="${plain}.${format}"; filename*=UTF-8''${exact}`;
}
