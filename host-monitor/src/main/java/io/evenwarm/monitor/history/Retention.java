package io.evenwarm.monitor.history;

import java.util.List;

/**
 * For how long what is kept, in days. A coarser tier is kept at least as long as a finer one, so
 * that what is drawn only ever gets coarser with age.
 *
 * @param readingsDays every reading
 * @param tierDays each tier, the finest first
 */
public record Retention(int readingsDays, List<Integer> tierDays) {

    /** For ever, as far as this program is concerned: a hundred years. */
    public static final int DAYS_MAX = 36_500;

    /** Two years and a term of readings, ten years of minutes, the rest for ever. */
    public static final Retention DEFAULT =
            new Retention(800, List.of(3_650, DAYS_MAX, DAYS_MAX, DAYS_MAX));

    public Retention {
        tierDays = List.copyOf(tierDays);
        if (tierDays.size() != Tier.values().length) {
            throw new IllegalArgumentException(
                    "there are " + Tier.values().length + " tiers but " + tierDays + " was given");
        }
        int finer = readingsDays;
        if (finer < 1) {
            throw new IllegalArgumentException(
                    "readings must be kept for at least 1 day but " + finer + " was given");
        }
        for (int days : tierDays) {
            if (days < finer || days > DAYS_MAX) {
                throw new IllegalArgumentException(
                        "a tier must be kept for "
                                + finer
                                + " (as long as the finer one) to "
                                + DAYS_MAX
                                + " days but "
                                + days
                                + " was given");
            }
            finer = days;
        }
    }

    public int days(Tier tier) {
        return tierDays.get(Tier.all().indexOf(tier));
    }
}
