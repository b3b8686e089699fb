package io.evenwarm.agent.plant;

import static io.evenwarm.agent.plant.ThermalConstants.BOTTOM;
import static io.evenwarm.agent.plant.ThermalConstants.LAYERS;
import static io.evenwarm.agent.plant.ThermalConstants.MIDDLE;
import static io.evenwarm.agent.plant.ThermalConstants.TOP;

/**
 * The heat of a cabinet: a network of thirteen masses, integrated with a fixed step.
 *
 * <p>Three layers of air, each with its wall, its fittings (the shelf and the tubs' plastic) and,
 * behind those, what is in the tubs; and one heater. The air of a small cabinet under a running fan
 * exchanges itself within a second, so an explicit step would have to be far shorter than the
 * control's. Each step here is the two-stage, second-order, L-stable diagonally implicit
 * Runge-Kutta method of Alexander (SIAM J. Numer. Anal. 14 (1977) 1006, from memory): both stages
 * solve the same linear system, in which all but the air is eliminated beforehand, so that a solve
 * is a product with a 3 × 3 inverse. The two exchanges that depend on temperatures (buoyancy
 * between layers, an open door) are held during a step; the inverse is made anew when one of them
 * has moved by more than {@value #REBUILD_SHARE} of itself. {@code CabinetPhysicsTest} bounds the
 * error against an adaptive integrator.
 *
 * <p>Not thread-safe.
 */
public final class CabinetPhysics {

    /** The step, s. */
    public static final double STEP_SECONDS = 1;

    private static final double GAMMA = 1 - StrictMath.sqrt(0.5);
    private static final double SECOND_STAGE = (1 - GAMMA) / GAMMA;
    private static final double REBUILD_SHARE = 0.005;

    private final ThermalParts parts;
    private final double stageSeconds;

    private final double[] air = new double[LAYERS];
    private final double[] wall = new double[LAYERS];
    private final double[] fittings = new double[LAYERS];
    private final double[] tub = new double[LAYERS];
    private double heater;

    private final double[] stageAir = new double[LAYERS];
    private final double[] stageWall = new double[LAYERS];
    private final double[] stageFittings = new double[LAYERS];
    private final double[] stageTub = new double[LAYERS];
    private double stageHeater;
    private final double[] right = new double[LAYERS];
    private final double[] seenByWall = new double[LAYERS];
    private final double[] seenByFittings = new double[LAYERS];

    // What the inverse was made for.
    private double flowShare = Double.NaN;
    private boolean doorOpen;
    private double lowerExchange;
    private double upperExchange;
    private double doorExchange;

    // Made by rebuild(): conductances in W/K, capacities over the stage in W/K.
    private final double[] heaterToAir = new double[LAYERS];
    private final double[] wallToAir = new double[LAYERS];

    private final double[] doorToAir = new double[LAYERS];
    private final double[] wallPivot = new double[LAYERS];
    private double fittingsToAir;
    private double fittingsPivot;
    private double tubPivot;
    private double heaterPivot;
    private double i00;
    private double i01;
    private double i02;
    private double i11;
    private double i12;
    private double i22;

    public CabinetPhysics(CabinetBuild build) {
        this(build, STEP_SECONDS);
    }

    CabinetPhysics(CabinetBuild build, double stepSeconds) {
        this.parts = new ThermalParts(build);
        this.stageSeconds = GAMMA * stepSeconds;
        for (int i = 0; i < LAYERS; i++) {
            air[i] = build.startCelsius();
            wall[i] = build.startCelsius();
            fittings[i] = build.startCelsius();
            tub[i] = build.startCelsius();
        }
        heater = build.startCelsius();
    }

    /**
     * Advances by one step.
     *
     * @param heaterWatts heat made in the heater during the step
     * @param fanHeatWatts heat that the fan leaves in the air
     * @param flow the fan's flow as a share of its full flow, 0 to 1
     * @param open whether the door is open
     * @param ambientCelsius the room during the step
     */
    public void step(
            double heaterWatts,
            double fanHeatWatts,
            double flow,
            boolean open,
            double ambientCelsius) {
        prepare(flow, open, ambientCelsius);
        solve(air, wall, fittings, tub, heater, heaterWatts, fanHeatWatts, ambientCelsius);
        // Second stage: starts from x + (1 − γ)/γ (X₁ − x).
        for (int i = 0; i < LAYERS; i++) {
            stageAir[i] = air[i] + SECOND_STAGE * (stageAir[i] - air[i]);
            stageWall[i] = wall[i] + SECOND_STAGE * (stageWall[i] - wall[i]);
            stageFittings[i] = fittings[i] + SECOND_STAGE * (stageFittings[i] - fittings[i]);
            stageTub[i] = tub[i] + SECOND_STAGE * (stageTub[i] - tub[i]);
        }
        double from = heater + SECOND_STAGE * (stageHeater - heater);
        solve(
                stageAir,
                stageWall,
                stageFittings,
                stageTub,
                from,
                heaterWatts,
                fanHeatWatts,
                ambientCelsius);
        for (int i = 0; i < LAYERS; i++) {
            air[i] = stageAir[i];
            wall[i] = stageWall[i];
            fittings[i] = stageFittings[i];
            tub[i] = stageTub[i];
        }
        heater = stageHeater;
    }

    public double airCelsius(int layer) {
        return air[layer];
    }

    public double wallCelsius(int layer) {
        return wall[layer];
    }

    double fittingsCelsius(int layer) {
        return fittings[layer];
    }

    public double tubCelsius(int layer) {
        return tub[layer];
    }

    public double heaterCelsius() {
        return heater;
    }

    /**
     * Exchanges a share of the tubs for others, shells and all.
     *
     * @param share 0 to 1
     */
    void exchangeTubs(double share, double celsius) {
        for (int i = 0; i < LAYERS; i++) {
            tub[i] += share * (celsius - tub[i]);
            fittings[i] += share * (celsius - fittings[i]);
        }
    }

    /**
     * How slowly a tub's content follows the air around it, s: the longer of the two time constants
     * of {@code C_f dF/dt = G_f (A − F) + G_t (M − F)} and {@code C_t dM/dt = G_t (F − M)} at a
     * given A. For verdicts and tests only.
     *
     * @param flow the fan's flow as a share of its full flow, 0 to 1
     */
    public double eggTimeConstantSeconds(double flow) {
        double shell =
                (parts.fittingsToAir(flow) + parts.tubToFittings()) / parts.fittingsCapacity();
        double content = parts.tubToFittings() / parts.tubCapacity();
        double product =
                parts.fittingsToAir(flow)
                        * parts.tubToFittings()
                        / (parts.fittingsCapacity() * parts.tubCapacity());
        double half = (shell + content) / 2;
        return (half + StrictMath.sqrt(half * half - product)) / product;
    }

    /** Heat that leaves through the walls now, W. */
    double wallLossWatts(double ambientCelsius) {
        double watts = 0;
        for (int i = 0; i < LAYERS; i++) {
            watts += parts.wallToRoom(i) * (wall[i] - ambientCelsius);
        }
        return watts;
    }

    /** One backward step of γ h from the given state into the stage's fields. */
    private void solve(
            double[] fromAir,
            double[] fromWall,
            double[] fromFittings,
            double[] fromTub,
            double fromHeater,
            double heaterWatts,
            double fanHeatWatts,
            double ambient) {
        double perStage = 1 / stageSeconds;
        double heaterOwn =
                (parts.heaterCapacity() * perStage * fromHeater + heaterWatts) * heaterPivot;
        double airPart = parts.airCapacity() * perStage;
        double fittingsPart = parts.fittingsCapacity() * perStage;
        double tubToFittings = parts.tubToFittings();
        double tubPart = parts.tubCapacity() * perStage;
        for (int i = 0; i < LAYERS; i++) {
            double wallOwn =
                    (parts.wallCapacity(i) * perStage * fromWall[i] + parts.wallToRoom(i) * ambient)
                            * wallPivot[i];
            double tubOwn = tubPart * fromTub[i] * tubPivot;
            double fittingsOwn =
                    (fittingsPart * fromFittings[i] + tubToFittings * tubOwn) * fittingsPivot;
            seenByWall[i] = wallOwn;
            seenByFittings[i] = fittingsOwn;
            stageTub[i] = tubOwn;
            right[i] =
                    airPart * fromAir[i]
                            + doorToAir[i] * ambient
                            + heaterToAir[i] * heaterOwn
                            + wallToAir[i] * wallOwn
                            + fittingsToAir * fittingsOwn;
        }
        // The fan sits in the air that it blows up.
        right[TOP] += fanHeatWatts;
        double bottom = i00 * right[0] + i01 * right[1] + i02 * right[2];
        double middle = i01 * right[0] + i11 * right[1] + i12 * right[2];
        double top = i02 * right[0] + i12 * right[1] + i22 * right[2];
        stageAir[BOTTOM] = bottom;
        stageAir[MIDDLE] = middle;
        stageAir[TOP] = top;
        stageHeater =
                heaterOwn
                        + heaterPivot
                                * (heaterToAir[BOTTOM] * bottom
                                        + heaterToAir[MIDDLE] * middle
                                        + heaterToAir[TOP] * top);
        for (int i = 0; i < LAYERS; i++) {
            stageWall[i] = seenByWall[i] + wallPivot[i] * wallToAir[i] * stageAir[i];
            stageFittings[i] = seenByFittings[i] + fittingsPivot * fittingsToAir * stageAir[i];
            stageTub[i] += tubPivot * tubToFittings * stageFittings[i];
        }
    }

    private void prepare(double flow, boolean open, double ambient) {
        double lower = parts.layerExchange(flow, air[BOTTOM] - air[MIDDLE]);
        double upper = parts.layerExchange(flow, air[MIDDLE] - air[TOP]);
        double door =
                open ? parts.doorExchange((air[BOTTOM] + air[MIDDLE] + air[TOP]) / 3 - ambient) : 0;
        if (flow != flowShare
                || open != doorOpen
                || hasMoved(lower, lowerExchange)
                || hasMoved(upper, upperExchange)
                || hasMoved(door, doorExchange)) {
            flowShare = flow;
            doorOpen = open;
            lowerExchange = lower;
            upperExchange = upper;
            doorExchange = door;
            rebuild();
        }
    }

    private static boolean hasMoved(double now, double then) {
        return Math.abs(now - then) > REBUILD_SHARE * then;
    }

    private void rebuild() {
        double perStage = 1 / stageSeconds;
        double heaterSum = 0;
        for (int i = 0; i < LAYERS; i++) {
            heaterToAir[i] = parts.heaterToAir(i, flowShare);
            wallToAir[i] = parts.wallToAir(i, flowShare);

            doorToAir[i] = doorExchange * ThermalConstants.doorShare(i);
            wallPivot[i] =
                    1 / (parts.wallCapacity(i) * perStage + wallToAir[i] + parts.wallToRoom(i));

            heaterSum += heaterToAir[i];
        }
        double tubToFittings = parts.tubToFittings();
        fittingsToAir = parts.fittingsToAir(flowShare);
        tubPivot = 1 / (parts.tubCapacity() * perStage + tubToFittings);
        fittingsPivot =
                1
                        / (parts.fittingsCapacity() * perStage
                                + fittingsToAir
                                + tubToFittings * (1 - tubPivot * tubToFittings));
        heaterPivot = 1 / (parts.heaterCapacity() * perStage + heaterSum);
        double m00 = diagonal(BOTTOM) + lowerExchange;
        double m11 = diagonal(MIDDLE) + lowerExchange + upperExchange;
        double m22 = diagonal(TOP) + upperExchange;
        double m01 = -lowerExchange - heaterPivot * heaterToAir[BOTTOM] * heaterToAir[MIDDLE];
        double m12 = -upperExchange - heaterPivot * heaterToAir[MIDDLE] * heaterToAir[TOP];
        double m02 = -heaterPivot * heaterToAir[BOTTOM] * heaterToAir[TOP];
        double c00 = m11 * m22 - m12 * m12;
        double c01 = m02 * m12 - m01 * m22;
        double c02 = m01 * m12 - m02 * m11;
        double over = 1 / (m00 * c00 + m01 * c01 + m02 * c02);
        i00 = c00 * over;
        i01 = c01 * over;
        i02 = c02 * over;
        i11 = (m00 * m22 - m02 * m02) * over;
        i12 = (m01 * m02 - m00 * m12) * over;
        i22 = (m00 * m11 - m01 * m01) * over;
    }

    /** A layer's own term without its neighbours, heater, wall and tubs eliminated. */
    private double diagonal(int i) {
        return parts.airCapacity() / stageSeconds
                + doorToAir[i]
                + heaterToAir[i] * (1 - heaterPivot * heaterToAir[i])
                + wallToAir[i] * (1 - wallPivot[i] * wallToAir[i])
                + fittingsToAir * (1 - fittingsPivot * fittingsToAir);
    }
}
