import { dimension } from "../dimension.ts";
import type { LinearUnit } from "../unit.ts";
import { row } from "./row.ts";

const SOURCE = "ISO 4217:2015 and its amendments";

/** Codes of ISO 4217 in use, by the number of decimals of the minor unit; funds, metals and test codes are left out. */
const CODES: Readonly<Record<number, string>> = {
  0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF",
  2: `AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY COP CRC CUP CVE
      CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW
      KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK
      PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS
      UAH USD UYU UZS VED VES WST XCD XCG YER ZAR ZMW ZWG`,
  3: "BHD IQD JOD KWD LYD OMR TND",
};

/** Each currency is a dimension of its own: euros and dollars never add. The factor is 1. */
export const CURRENCIES: readonly LinearUnit[] = Object.entries(CODES)
  .flatMap(([decimals, codes]) =>
    codes
      .split(/\s+/)
      .map((code) => row(code, [], dimension({ [`currency:${code}`]: 1 }), 1, Number(decimals), SOURCE)),
  )
  .sort((a, b) => (a.symbol < b.symbol ? -1 : 1));
