import { formulaOf, type SaltForm } from '@pourline/core';

const SUBSCRIPTS = '₀₁₂₃₄₅₆₇₈₉';

/** A formula as it is printed: counts of atoms below the line, the count of water molecules on it: MgSO₄·7H₂O. */
export const printed = (formula: string): string =>
  formula.replaceAll(/(?<=[A-Za-z)])\d+/g, (digits) =>
    [...digits].map((digit) => SUBSCRIPTS[Number(digit)]).join(''),
  );

/** The formula of a salt with its water of crystallisation, as it is printed. */
export const printedForm = (form: SaltForm): string => printed(formulaOf(form));
