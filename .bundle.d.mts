export function bundleUploader(outfile: string): void;
