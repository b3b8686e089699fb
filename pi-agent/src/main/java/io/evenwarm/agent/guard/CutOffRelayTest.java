package io.evenwarm.agent.guard;

import io.evenwarm.agent.cabinet.CabinetState;
import io.evenwarm.agent.guard.health.CabinetHealth;
import java.util.Locale;

/**
 * Tries once a day whether the cut-off relay still interrupts. A relay whose contacts have welded
 * looks like a sound one until the day when it must stop a welded heater relay.
 *
 * <p>At a harmless moment it is opened as a time on of the heater begins, for as long as it takes
 * to withhold a little heat: so much as warms the air by about {@value #DIP_KELVIN} K, by what
 * guard has learned of this cabinet. Control gives it back afterwards, so that the dip is small and
 * short. A look at the minutes before and after tells whether that heat was missing: the air is
 * fitted by least squares to a level, a slope, and the heat behind the probes' lag and each of
 * three others, once with the withheld heat left out, as with a sound relay, and once with it, as
 * with a stuck one. How strongly the air answers is fitted too, so that nothing learned before is
 * relied upon. The logarithm of the likelihoods' ratio is the look's evidence.
 *
 * <p>Looks are added up until they are sure, at most {@value #MOST_LOOKS} a day, each withholding
 * more than the one before. To say that it is stuck takes two. What can't be told, because somebody
 * opens the door or the heater is hardly needed, is tried again.
 */
final class CutOffRelayTest {

    static final double FIRST_AFTER_SECONDS = 12 * 3600;
    static final double EACH_SECONDS = 24 * 3600;
    static final double AGAIN_SECONDS = 1800;

    /** What the withheld heat would warm the air by, if it came at once and nothing was lost. */
    static final double DIP_KELVIN = 0.06;

    /** What is withheld at least and at most in the first look of a day, s of full heat. */
    private static final double LEAST_WITHHELD_SECONDS = 4;

    private static final double MOST_WITHHELD_SECONDS = 40;

    /** Where the answer to heat is not known yet: the heat of this long, s. */
    private static final double UNKNOWN_SECONDS = 60;

    /** By what each further look of a day withholds more, and the most that this comes to. */
    private static final double MORE = 1.5;

    private static final double MOST_MORE = 4;

    /** A heater that is hardly needed is not waited for longer. */
    static final double LONGEST_OPEN_SECONDS = 900;

    /** A heater that is on nearly always can give nothing back. */
    static final double MOST_SHARE = 0.9;

    /** Nearer than this to the set point, on average, is calm. */
    private static final double CALM_KELVIN = 0.25;

    /** Looks a day. */
    static final int MOST_LOOKS = 6;

    /** A stuck relay is not told from one look. */
    private static final int LEAST_LOOKS_STUCK = 2;

    /** Evidence at which either is believed: odds of e to the 5 and e to the 6. */
    private static final double BELIEVED_SOUND = 5;

    private static final double BELIEVED_STUCK = -6;

    /** No look alone is surer than this. */
    private static final double MOST_A_LOOK = 5;

    private static final double SLOW_SECONDS = 600;
    private static final double STEADY_SECONDS = 1800;
    private static final double PROBE_LAG_SECONDS = 30;

    /** The element and the air, a slow mat, the walls: together they make up the answer. */
    private static final double[] LAGS_SECONDS = {60, 250, 1000};

    private static final int LAGS = LAGS_SECONDS.length;
    private static final double BLOCK_SECONDS = 10;

    /** What heat does not explain keeps its direction for about this many blocks. */
    private static final double BLOCKS_ALIKE = 6;

    /** What rounding and noise leave of a block's mean at least, K. */
    private static final double LEAST_SCATTER_KELVIN = 0.004;

    /**
     * Where neither explains the air better than this, root mean square of the blocks, something
     * else moved it, K. In 283 looks of 60 catalogue cabinets the better of the two left 0.031 at
     * most; an hour after a look inside it once was 0.055.
     */
    static final double MOST_SCATTER_KELVIN = 0.04;

    /** Keeps the equations solvable where two lags look alike. */
    private static final double RIDGE = 1e-6;

    private static final int BEFORE_BLOCKS = 120;
    private static final int AFTER_BLOCKS = 60;
    private static final int BLOCKS = 240;
    private static final double NANOS_PER_SECOND = 1e9;

    private enum Phase {
        WAITING,
        OPEN,
        WATCHING
    }

    private boolean hasStarted;
    private long dueAtNanos;
    private double calmSeconds;
    private double slow;
    private Phase phase = Phase.WAITING;

    // Heat as it was commanded, and as it comes through a relay that interrupts, behind the
    // probes' lag and each of the others: shares.
    private double delayed;
    private double delayedCut;
    private final double[] heat = new double[LAGS];
    private final double[] heatCut = new double[LAGS];

    // The same and the air in blocks of 10 s, the newest over the oldest.
    private final double[] air = new double[BLOCKS];
    private final double[][] blockHeat = new double[LAGS][BLOCKS];
    private final double[][] blockHeatCut = new double[LAGS][BLOCKS];
    private int next;
    private int filled;
    private double airSum;
    private double blockSeconds;

    private double openSeconds;
    private double wantedSeconds;
    private double withheldSeconds;
    private double giveBackSeconds;
    private int blocksSinceOpen;
    private boolean mayHaveHeated;

    // What the looks of this day say.
    private int looks;
    private double soundEvidence;
    private double askedSeconds;
    private boolean isStuck;
    private String evidence = "";

    /** Whether the tests say that heat comes through the open relay. */
    boolean isStuck() {
        return isStuck;
    }

    /** What the last tests that seemed stuck showed. */
    String evidence() {
        return evidence;
    }

    /**
     * Whether a look ended in the last tick without showing that no heat came: then nobody knows
     * whether it came, and whoever supposed that it did not must begin anew.
     */
    boolean hasEndedWithoutFall() {
        return mayHaveHeated;
    }

    /** Whether the relay is held open to test it. */
    boolean isRunning() {
        return phase == Phase.OPEN;
    }

    /** Heater seconds that were withheld until now and shall be given back from this tick on. */
    double giveBackSeconds() {
        return giveBackSeconds;
    }

    /**
     * Takes a tick in.
     *
     * @param isCalm whether nothing speaks against a test: settled, heat allowed, nothing found,
     *     nobody at work, door shut, not blind
     * @param heatShare of the last minutes in which the heater was on
     * @return whether the cut-off relay shall be open in this tick
     */
    boolean update(
            CabinetState state,
            TickFacts facts,
            boolean isCalm,
            double heatShare,
            double setPointCelsius,
            CabinetHealth health,
            long nowNanos) {
        mayHaveHeated = false;
        giveBackSeconds = 0;
        if (!hasStarted) {
            hasStarted = true;
            dueIn(FIRST_AFTER_SECONDS, nowNanos);
        }
        double elapsed = facts.secondsSinceLastTick();
        if (!isCalm || state.isBlind() || !(elapsed > 0)) {
            calmSeconds = 0;
            filled = 0;
            if (phase != Phase.WAITING) {
                end(AGAIN_SECONDS, nowNanos);
            }
            return false;
        }
        boolean wasOn = facts.wasHeaterOn();
        boolean wasWithheld = wasOn && !facts.signs().wasCutOffRelayClosed();
        take(state.processCelsius(), wasOn, wasWithheld, elapsed);
        switch (phase) {
            case WAITING -> {
                boolean isSteady =
                        nowNanos - dueAtNanos >= 0
                                && calmSeconds >= STEADY_SECONDS
                                && filled >= BEFORE_BLOCKS
                                && heatShare <= MOST_SHARE
                                && Math.abs(slow - setPointCelsius) < CALM_KELVIN;
                if (isSteady && wasOn) {
                    phase = Phase.OPEN;
                    openSeconds = 0;
                    withheldSeconds = 0;
                    blocksSinceOpen = 0;
                    wantedSeconds = wantedSeconds(health, heatShare);
                }
            }
            case OPEN -> {
                openSeconds += elapsed;
                withheldSeconds += wasWithheld ? elapsed : 0;
                if (withheldSeconds >= wantedSeconds || openSeconds >= LONGEST_OPEN_SECONDS) {
                    phase = Phase.WATCHING;
                    giveBackSeconds = withheldSeconds;
                }
            }
            case WATCHING -> {
                if (blocksSinceOpen >= AFTER_BLOCKS + openSeconds / BLOCK_SECONDS) {
                    look(nowNanos);
                }
            }
        }
        return phase == Phase.OPEN;
    }

    private double wantedSeconds(CabinetHealth health, double heatShare) {
        double wanted =
                health.isResponseLearned()
                        ? DIP_KELVIN
                                * (health.responseLagSeconds() + PROBE_LAG_SECONDS)
                                / health.responseKelvin()
                        : UNKNOWN_SECONDS * heatShare;
        return Math.max(LEAST_WITHHELD_SECONDS, Math.min(MOST_WITHHELD_SECONDS, wanted))
                * Math.min(MOST_MORE, StrictMath.pow(MORE, looks));
    }

    private void take(double celsius, boolean wasOn, boolean wasWithheld, double elapsed) {
        slow =
                calmSeconds == 0
                        ? celsius
                        : slow + (celsius - slow) * elapsed / (SLOW_SECONDS + elapsed);
        double probe = elapsed / (PROBE_LAG_SECONDS + elapsed);
        delayed += ((wasOn ? 1 : 0) - delayed) * probe;
        delayedCut += ((wasOn && !wasWithheld ? 1 : 0) - delayedCut) * probe;
        calmSeconds += elapsed;
        airSum += celsius * elapsed;
        blockSeconds += elapsed;
        boolean isFull = blockSeconds >= BLOCK_SECONDS - 0.5;
        for (int i = 0; i < LAGS; i++) {
            double heater = elapsed / (LAGS_SECONDS[i] + elapsed);
            heat[i] += (delayed - heat[i]) * heater;
            heatCut[i] += (delayedCut - heatCut[i]) * heater;
            if (isFull) {
                blockHeat[i][next] = heat[i];
                blockHeatCut[i][next] = heatCut[i];
            }
        }
        if (isFull) {
            air[next] = airSum / blockSeconds;
            next = (next + 1) % BLOCKS;
            filled = Math.min(BLOCKS, filled + 1);
            blocksSinceOpen++;
            airSum = 0;
            blockSeconds = 0;
        }
    }

    /** Weighs what the minutes around the opening say. */
    private void look(long nowNanos) {
        int count = Math.min(filled, blocksSinceOpen + BEFORE_BLOCKS);
        double sound = unexplained(blockHeatCut, count);
        double stuck = unexplained(blockHeat, count);
        double least = count * LEAST_SCATTER_KELVIN * LEAST_SCATTER_KELVIN;
        double says = count / BLOCKS_ALIKE / 2 * StrictMath.log((stuck + least) / (sound + least));
        looks++;
        boolean isMovedByElse =
                Math.min(sound, stuck) > count * MOST_SCATTER_KELVIN * MOST_SCATTER_KELVIN;
        soundEvidence += isMovedByElse ? 0 : Math.max(-MOST_A_LOOK, Math.min(MOST_A_LOOK, says));
        askedSeconds += withheldSeconds;
        if (soundEvidence >= BELIEVED_SOUND) {
            isStuck = false;
            conclude(nowNanos);
            mayHaveHeated = false;
        } else if (soundEvidence <= BELIEVED_STUCK && looks >= LEAST_LOOKS_STUCK) {
            isStuck = true;
            evidence =
                    String.format(
                            Locale.ROOT,
                            "opened %d times for %.0f s of commanded heat in all, and the air got as"
                                    + " warm as if it had come",
                            looks,
                            askedSeconds);
            conclude(nowNanos);
        } else if (looks >= MOST_LOOKS) {
            conclude(nowNanos);
        } else {
            end(AGAIN_SECONDS, nowNanos);
        }
    }

    /**
     * What is left of the air's movement beside a level, a slope and the answer to this heat, K² in
     * all: least squares by the normal equations, once a look.
     */
    private double unexplained(double[][] given, int count) {
        int size = LAGS + 1;
        double[][] column = new double[size + 1][count];
        for (int i = 0; i < count; i++) {
            int at = at(i, count);
            column[0][i] = i;
            for (int lag = 0; lag < LAGS; lag++) {
                column[1 + lag][i] = given[lag][at];
            }
            column[size][i] = air[at];
        }
        double[][] matrix = new double[size + 1][size + 1];
        for (double[] values : column) {
            double mean = 0;
            for (double value : values) {
                mean += value / count;
            }
            for (int i = 0; i < count; i++) {
                values[i] -= mean;
            }
        }
        for (int row = 0; row <= size; row++) {
            for (int other = 0; other <= size; other++) {
                for (int i = 0; i < count; i++) {
                    matrix[row][other] += column[row][i] * column[other][i];
                }
            }
            matrix[row][row] *= 1 + RIDGE;
        }
        // Elimination leaves in the last corner what the others do not explain.
        for (int pivot = 0; pivot < size; pivot++) {
            if (!(matrix[pivot][pivot] > 0)) {
                continue;
            }
            for (int row = pivot + 1; row <= size; row++) {
                double factor = matrix[row][pivot] / matrix[pivot][pivot];
                for (int other = pivot; other <= size; other++) {
                    matrix[row][other] -= factor * matrix[pivot][other];
                }
            }
        }
        return Math.max(0, matrix[size][size]);
    }

    private void conclude(long nowNanos) {
        looks = 0;
        soundEvidence = 0;
        askedSeconds = 0;
        end(EACH_SECONDS, nowNanos);
    }

    private int at(int i, int count) {
        return (next - count + i + 2 * BLOCKS) % BLOCKS;
    }

    private void end(double againInSeconds, long nowNanos) {
        if (phase == Phase.OPEN) {
            giveBackSeconds = withheldSeconds;
        }
        phase = Phase.WAITING;
        mayHaveHeated = true;
        calmSeconds = 0;
        filled = 0;
        dueIn(againInSeconds, nowNanos);
    }

    private void dueIn(double seconds, long nowNanos) {
        dueAtNanos = nowNanos + (long) (seconds * NANOS_PER_SECOND);
    }
}
