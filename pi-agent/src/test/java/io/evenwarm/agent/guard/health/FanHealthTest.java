package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class FanHealthTest {

    private static final double[] HEIGHT = {1, 0, -1};
    private static final double USUAL = 0.3;
    private static final double SCATTER = 0.01;
    private static final int HOUR = 360;

    private final Layering layering = new Layering(3);
    private final LayerCauses fast = new LayerCauses(HEIGHT);
    private final LayerCauses slow = new LayerCauses(HEIGHT);
    private final FanHealth fan = new FanHealth();

    private FanHealth.Verdict take(int blocks, double share, double... deviation) {
        return take(blocks, share, false, deviation);
    }

    private FanHealth.Verdict take(
            int blocks, double share, boolean isAfterWork, double... deviation) {
        for (int i = 0; i < blocks; i++) {
            fast.judge(deviation, layering, share, 0.08);
            slow.judge(new double[3], layering, share, 0.04);
            fan.take(
                    fast,
                    slow,
                    slow,
                    share,
                    USUAL,
                    SCATTER,
                    0,
                    0,
                    false,
                    !isAfterWork,
                    isAfterWork);
        }
        return fan.verdict();
    }

    private void stop() {
        assertEquals(FanHealth.Verdict.STOPPED, take(6, 0.2, 1.4, -0.3, -1.1));
    }

    @Test
    void aFanThatTurnsAgainBringsAllTheProbesBack() {
        stop();
        assertEquals(FanHealth.Verdict.STOPPED, take(59, 0.2, 0.02, 0.01, -0.03));
        assertEquals(FanHealth.Verdict.MIXES, take(1, 0.2, 0.02, 0.01, -0.03));
    }

    /** One of them alone may have drifted, and the top still runs away. */
    @Test
    void aTopProbeThatComesDownAloneDoesNotEndIt() {
        stop();
        for (double lead = 1.4; lead > -1.5; lead -= 0.02) {
            take(HOUR / 5, 0.2, lead, 0.4 - lead / 2, -0.4 - lead / 2);
            assertEquals(FanHealth.Verdict.STOPPED, fan.verdict(), "lead " + lead);
        }
    }

    @Test
    void withoutHeatEvenLayersProveTheFanOnlyAfterAnHour() {
        stop();
        assertEquals(FanHealth.Verdict.STOPPED, take(HOUR - 1, 0, 0.02, 0.01, -0.03));
        assertEquals(FanHealth.Verdict.MIXES, take(1, 0, 0.02, 0.01, -0.03));
    }

    @Test
    void coldTubsMustPartTheLayersFartherBeforeTheFanCountsAsStopped() {
        double early = 1.5 * USUAL;
        double sure = 2 * USUAL;
        assertEquals(FanHealth.Verdict.MIXES, take(60, 0.2, true, early, 0, -early));
        assertEquals(FanHealth.Verdict.STOPPED, take(6, 0.2, true, sure, 0, -sure));
        FanHealthTest other = new FanHealthTest();
        assertEquals(FanHealth.Verdict.STOPPED, other.take(6, 0.2, early, 0, -early));
    }

    private FanHealth.Verdict parts(int blocks, double slowKelvin, double faintKelvin) {
        for (int i = 0; i < blocks; i++) {
            fast.judge(new double[3], layering, 0.02, 0.08);
            slow.judge(new double[] {slowKelvin, 0, -slowKelvin}, layering, 0.02, 0.04);
            LayerCauses faint = new LayerCauses(HEIGHT);
            faint.judge(new double[] {faintKelvin, 0, -faintKelvin}, layering, 0.02, 0.02);
            fan.take(fast, slow, faint, 0.02, 0.1, SCATTER, 0, 0, false, true, false);
        }
        return fan.verdict();
    }

    @Test
    void whereLittleHeatIsNeededAFaintPartingThatLastsForAnHourIsASlowFan() {
        assertEquals(FanHealth.Verdict.MIXES, parts(4 * HOUR, 0, 0.024), "less than enough");
        assertEquals(FanHealth.Verdict.MIXES, parts(HOUR - 1, 0, 0.03));
        assertEquals(FanHealth.Verdict.WEAK, parts(1, 0, 0.03));
        assertEquals(FanHealth.Verdict.WEAK, parts(2 * HOUR, 0, 0.02), "not taken back at once");
        assertEquals(FanHealth.Verdict.MIXES, parts(60, 0, 0.015), "over");
    }

    /** A top that drifts down closes the gap: then the middle seems to be the one that is wrong. */
    @Test
    void aTopProbeThatDriftsDownBesideASlowFanDoesNotEndIt() {
        assertEquals(FanHealth.Verdict.WEAK, parts(HOUR, 0.2, 0.2));
        double gap = 0.6;
        for (double drift = 0.8; drift < 2.4; drift += 0.02) {
            take(HOUR / 5, 0.2, gap - drift, 0, -gap);
            assertEquals(FanHealth.Verdict.WEAK, fan.verdict(), "drift " + drift);
        }
    }
}
