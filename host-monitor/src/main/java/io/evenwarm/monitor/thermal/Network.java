package io.evenwarm.monitor.thermal;

/**
 * Three masses: air, walls and eggs. All over the heat loss, so that the paths from the air through
 * the walls to the room come to 1 with a running fan:
 *
 * <pre>
 *   c_a dA/dt = g_w (W − A) + g_e (E − A) + P       g_e = c_e/τ_e
 *   c_w dW/dt = g_w (A − W) + g_o (R − W)           1/g_w + 1/g_o = 1
 *      dE/dt  = (A − E)/τ_e
 * </pre>
 *
 * <p>P is what heats the air, in K of rise at last. With room and P held for a step, the solution
 * is the exponential of the step times the matrix of the system with its inputs ([1], section 10).
 *
 * <p>[1] Moler and Van Loan, "Nineteen dubious ways to compute the exponential of a matrix", SIAM
 * Review 45 (2003) 3, method 3 (scaling and squaring), from memory.
 */
final class Network {

    static final int AIR = 0;
    static final int WALL = 1;
    static final int EGG = 2;
    static final int ROOM = 3;
    static final int POWER = 4;

    /** States. */
    static final int MASSES = 3;

    /**
     * g_w: the air's film and the lining before the walls' mass are an eighth of the way out. From
     * EN ISO 6946's inner film of 0.13 m²K/W, from memory, on a wall of 1 W/m²K.
     */
    static final double WALL_HOLD = 8;

    private static final int INPUTS = 2;
    private static final double SMALL = 0.25;
    private static final int TERMS = 10;

    private final double[][] step;

    /**
     * @param seconds length of a step
     */
    Network(NetworkConstants of, boolean isFanOn, double seconds) {
        step = exponential(matrix(of, isFanOn), seconds);
    }

    /** How much of an input or a state at a step's begin is in a state at its end. */
    double share(int ofState, int from) {
        return step[ofState][from];
    }

    /** Follows one step. */
    void advance(double[] masses, double roomCelsius, double powerKelvin) {
        double air = masses[AIR];
        double wall = masses[WALL];
        double egg = masses[EGG];
        for (int i = 0; i < MASSES; i++) {
            double[] row = step[i];
            masses[i] =
                    row[AIR] * air
                            + row[WALL] * wall
                            + row[EGG] * egg
                            + row[ROOM] * roomCelsius
                            + row[POWER] * powerKelvin;
        }
    }

    static double[][] matrix(NetworkConstants of, boolean isFanOn) {
        double outer = WALL_HOLD / (WALL_HOLD - 1);
        double wall = isFanOn ? WALL_HOLD : WALL_HOLD * of.stillWallShare();
        double lag = isFanOn ? of.eggLagSeconds() : of.eggLagSeconds() / of.stillEggShare();
        double egg = of.eggSeconds() / lag;
        double[][] m = new double[MASSES + INPUTS][MASSES + INPUTS];
        m[AIR][AIR] = -(wall + egg) / of.airSeconds();
        m[AIR][WALL] = wall / of.airSeconds();
        m[AIR][EGG] = egg / of.airSeconds();
        m[AIR][POWER] = 1 / of.airSeconds();
        m[WALL][AIR] = wall / of.wallSeconds();
        m[WALL][WALL] = -(wall + outer) / of.wallSeconds();
        m[WALL][ROOM] = outer / of.wallSeconds();
        m[EGG][AIR] = 1 / lag;
        m[EGG][EGG] = -1 / lag;
        return m;
    }

    /** e^(m t). */
    static double[][] exponential(double[][] m, double t) {
        int n = m.length;
        double norm = 0;
        for (double[] row : m) {
            double sum = 0;
            for (double value : row) {
                sum += Math.abs(value) * t;
            }
            norm = Math.max(norm, sum);
        }
        int squarings = norm <= SMALL ? 0 : Math.getExponent(norm / SMALL) + 1;
        double part = Math.scalb(t, -squarings);
        double[][] sum = identity(n);
        double[][] term = identity(n);
        for (int k = 1; k <= TERMS; k++) {
            term = product(term, m, part / k);
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    sum[i][j] += term[i][j];
                }
            }
        }
        for (int i = 0; i < squarings; i++) {
            sum = product(sum, sum, 1);
        }
        return sum;
    }

    private static double[][] identity(int n) {
        double[][] one = new double[n][n];
        for (int i = 0; i < n; i++) {
            one[i][i] = 1;
        }
        return one;
    }

    private static double[][] product(double[][] left, double[][] right, double by) {
        int n = left.length;
        double[][] product = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int k = 0; k < n; k++) {
                double value = left[i][k] * by;
                for (int j = 0; j < n; j++) {
                    product[i][j] += value * right[k][j];
                }
            }
        }
        return product;
    }
}
