package io.evenwarm.agent.control;

import java.util.Optional;

/**
 * What a test found.
 *
 * @param holdingDuty that held the cabinet before the test, 0 to 1
 * @param model of a step test
 * @param ultimatePoint of a relay test
 */
public record TestFinding(
        double holdingDuty, Optional<ProcessModel> model, Optional<UltimatePoint> ultimatePoint) {}
