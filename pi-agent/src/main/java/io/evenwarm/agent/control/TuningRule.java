package io.evenwarm.agent.control;

/**
 * Published rules that turn what a test found into constants of a controller.
 *
 * <p>SIMC: Skogestad, J. Process Control 13 (2003) 291. Improved SIMC: Grimholt and Skogestad, J.
 * Process Control 70 (2018) 36: the derivative time that it adds. Tyreus and Luyben, Ind. Eng.
 * Chem. Res. 31 (1992) 2625, from memory. Ziegler and Nichols (1942), as in the usual charts, for
 * comparison: it swings more than eggs should be asked to bear.
 */
public enum TuningRule {
    SIMC_PI("SIMC, PI"),
    SIMC_PID("improved SIMC, PID"),
    TYREUS_LUYBEN_PI("Tyreus–Luyben, PI"),
    TYREUS_LUYBEN_PID("Tyreus–Luyben, PID"),
    ZIEGLER_NICHOLS_PI("Ziegler–Nichols, PI"),
    ZIEGLER_NICHOLS_PID("Ziegler–Nichols, PID");

    private final String words;

    TuningRule(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    /**
     * Constants of a controller in the ideal form.
     *
     * @param gainPerKelvin Kc
     * @param integralSeconds τI
     * @param derivativeSeconds τD, 0 for none
     */
    public record Constants(
            double gainPerKelvin, double integralSeconds, double derivativeSeconds) {}

    /**
     * SIMC: Kc = τ / (K (τc + θ)), τI = min(τ, 4 (τc + θ)).
     *
     * @param closedLoopSeconds τc, wanted time constant of the closed loop; θ is "tight"
     */
    public static Constants simcPi(ProcessModel model, double closedLoopSeconds) {
        double sum = closedLoopSeconds + model.deadTimeSeconds();
        return new Constants(
                model.timeConstantSeconds() / (model.gainKelvin() * sum),
                Math.min(model.timeConstantSeconds(), 4 * sum),
                0);
    }

    /**
     * Improved SIMC: as {@link #simcPi} with a derivative time of θ/3 in series, here turned into
     * the ideal form, whose gain and times are Kc (1 + τD/τI), τI + τD and τI τD / (τI + τD).
     */
    public static Constants simcPid(ProcessModel model, double closedLoopSeconds) {
        Constants series = simcPi(model, closedLoopSeconds);
        double derivative = model.deadTimeSeconds() / 3;
        double factor = 1 + derivative / series.integralSeconds();
        return new Constants(
                series.gainPerKelvin() * factor,
                series.integralSeconds() * factor,
                derivative / factor);
    }

    /** Ku/3.2 and 2.2 Pu. */
    public static Constants tyreusLuybenPi(UltimatePoint at) {
        return new Constants(at.gainPerKelvin() / 3.2, 2.2 * at.periodSeconds(), 0);
    }

    /** Ku/2.2, 2.2 Pu and Pu/6.3. */
    public static Constants tyreusLuybenPid(UltimatePoint at) {
        return new Constants(
                at.gainPerKelvin() / 2.2, 2.2 * at.periodSeconds(), at.periodSeconds() / 6.3);
    }

    /** Ku/2.2 and Pu/1.2. */
    public static Constants zieglerNicholsPi(UltimatePoint at) {
        return new Constants(at.gainPerKelvin() / 2.2, at.periodSeconds() / 1.2, 0);
    }

    /** Ku/1.7, Pu/2 and Pu/8. */
    public static Constants zieglerNicholsPid(UltimatePoint at) {
        return new Constants(
                0.6 * at.gainPerKelvin(), at.periodSeconds() / 2, at.periodSeconds() / 8);
    }
}
