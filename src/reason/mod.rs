//! Reasoning: outcomes, suspects, verdict, plan, audit, reach. Knows circuits and quantities, no card, file or language.
