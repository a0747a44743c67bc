/** The part of jStat that tests compare with; the package brings no types. */
declare module "jstat" {
  interface Continuous {
    cdf(x: number, ...parameters: number[]): number;
    inv(p: number, ...parameters: number[]): number;
  }
  const jstat: {
    jStat: {
      normal: Continuous;
      studentt: Continuous;
      chisquare: Continuous;
      centralF: Continuous;
      binomial: Continuous;
      poisson: Continuous;
      hypgeom: Continuous;
      gammaln(x: number): number;
    };
  };
  export default jstat;
}
