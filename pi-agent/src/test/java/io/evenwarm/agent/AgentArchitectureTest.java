package io.evenwarm.agent;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static io.evenwarm.testing.ModuleRules.never;
import static io.evenwarm.testing.ModuleRules.only;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ImportOption.DoNotIncludeTests;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.junit.ArchTests;
import com.tngtech.archunit.lang.ArchRule;
import io.evenwarm.testing.ModuleRules;
import java.util.List;

/** The package directions of docs/architecture.md, for the agent. */
@AnalyzeClasses(packages = "io.evenwarm.agent", importOptions = DoNotIncludeTests.class)
final class AgentArchitectureTest {

    private static final String[] PURE = {
        "io.evenwarm.agent.guard..",
        "io.evenwarm.agent.control..",
        "io.evenwarm.agent.cabinet..",
        "io.evenwarm.agent.reading..",
        "io.evenwarm.agent.plan.."
    };

    @ArchTest static final ArchTests IN_EVERY_MODULE = ArchTests.in(ModuleRules.class);

    /** An empty scan would pass every rule below. */
    @ArchTest
    static void theScanReallySawTheAgentsClasses(JavaClasses classes) {
        assertTrue(classes.size() >= 100, "only " + classes.size() + " classes were scanned");
    }

    @ArchTest
    static final ArchRule GUARD_CONTROL_CABINET_AND_READING_ARE_PURE =
            noClasses()
                    .that()
                    .resideInAnyPackage(PURE)
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            "io.evenwarm.clock..",
                            "io.evenwarm.link..",
                            "io.evenwarm.codec..",
                            "io.evenwarm.frame..",
                            "java.io..",
                            "java.nio..",
                            "java.net..",
                            "java.sql..",
                            "java.util.concurrent..",
                            "java.util.logging..",
                            "java.time..",
                            "org.slf4j..")
                    .orShould()
                    .dependOnClassesThat()
                    .belongToAnyOf(Thread.class, System.Logger.class);

    @ArchTest
    static final ArchRule CONTROL_KNOWS_NOTHING_OF_GUARD =
            never(
                    List.of("io.evenwarm.agent.control.."),
                    "io.evenwarm.agent.guard..",
                    "io.evenwarm.agent.cabinet..",
                    "io.evenwarm.agent.reading..");

    @ArchTest
    static final ArchRule GUARD_KNOWS_NOTHING_OF_CONTROL =
            never(List.of("io.evenwarm.agent.guard.."), "io.evenwarm.agent.control..");

    @ArchTest
    static final ArchRule ONLY_READING_AND_DRIVERS_LOOK_AT_SAMPLES =
            noClasses()
                    .that()
                    .resideInAnyPackage(
                            "io.evenwarm.agent.guard..",
                            "io.evenwarm.agent.control..",
                            "io.evenwarm.agent.cabinet..",
                            "io.evenwarm.agent.journal..",
                            "io.evenwarm.agent.serve..")
                    .should()
                    .dependOnClassesThat()
                    .haveSimpleName("Sample");

    @ArchTest
    static final ArchRule ONLY_REHEARSAL_AND_APP_KNOW_THE_PLANT =
            only(
                    List.of(
                            "io.evenwarm.agent.plant..",
                            "io.evenwarm.agent.rehearsal..",
                            "io.evenwarm.agent.app.."),
                    "io.evenwarm.agent.plant..");

    @ArchTest
    static final ArchRule ONLY_APP_NAMES_DRIVERS =
            only(
                    List.of("io.evenwarm.agent.driver..", "io.evenwarm.agent.app.."),
                    "io.evenwarm.agent.driver..");

    @ArchTest
    static final ArchRule JOURNAL_AND_SERVE_SEE_SNAPSHOTS_ONLY =
            never(
                    List.of("io.evenwarm.agent.journal..", "io.evenwarm.agent.serve.."),
                    "io.evenwarm.agent.guard..",
                    "io.evenwarm.agent.control..",
                    "io.evenwarm.agent.cabinet..",
                    "io.evenwarm.agent.reading..",
                    "io.evenwarm.agent.loop..");

    @ArchTest
    static final ArchRule THE_DECIDING_CODE_KNOWS_NO_JOURNAL_AND_NO_LINK =
            never(
                    List.of(
                            "io.evenwarm.agent.loop..",
                            "io.evenwarm.agent.guard..",
                            "io.evenwarm.agent.control..",
                            "io.evenwarm.agent.plant.."),
                    "io.evenwarm.agent.journal..",
                    "io.evenwarm.agent.serve..",
                    "io.evenwarm.link..");

    @ArchTest
    static final ArchRule ONLY_THE_JOURNAL_SPEAKS_SQL =
            only(List.of("io.evenwarm.agent.journal.."), "java.sql..", "org.sqlite..");

    @ArchTest
    static final ArchRule BEACONS_SEE_SNAPSHOTS_ONLY =
            never(
                    List.of("io.evenwarm.agent.beacon.."),
                    "io.evenwarm.agent.guard..",
                    "io.evenwarm.agent.control..",
                    "io.evenwarm.agent.cabinet..",
                    "io.evenwarm.agent.reading..",
                    "io.evenwarm.agent.loop..",
                    "io.evenwarm.agent.driver..");

    @ArchTest
    static final ArchRule ONLY_BEACONS_KNOW_THE_BROKERS_CLIENT =
            only(List.of("io.evenwarm.agent.beacon.."), "org.eclipse.paho..");

    @ArchTest
    static final ArchRule ONLY_ITS_DRIVER_USES_PI4J =
            only(List.of("io.evenwarm.agent.driver.pi4j.."), "com.pi4j..");

    @ArchTest
    static final ArchRule ONLY_DRIVERS_CALL_NATIVE_FUNCTIONS =
            only(List.of("io.evenwarm.agent.driver.."), "com.sun.jna..");

    /** The protocol module's own packages are the doors to these. */
    @ArchTest
    static final ArchRule THE_AGENT_PARSES_NEITHER_TOML_NOR_MESSAGES_ITSELF =
            noClasses()
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage("org.tomlj..", "com.fasterxml..", "com.fazecast..");

    @ArchTest
    static final ArchRule THE_AGENT_HAS_NO_WINDOW =
            noClasses()
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            "javafx..", "java.awt..", "javax.swing..", "io.evenwarm.monitor..");

    @ArchTest
    static final ArchRule PACKAGES_HAVE_NO_CYCLES =
            slices().matching("io.evenwarm.agent.(*)..").should().beFreeOfCycles();
}
