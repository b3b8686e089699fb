package io.evenwarm;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.GeneralCodingRules.NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ImportOption.DoNotIncludeTests;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import java.time.Instant;

/** The package directions of docs/architecture.md, for the vocabulary and the links. */
@AnalyzeClasses(packages = "io.evenwarm", importOptions = DoNotIncludeTests.class)
final class ProtocolArchitectureTest {

    /** An empty scan would pass every rule below. */
    @ArchTest
    static void theScanReallySawTheProtocolsClasses(JavaClasses classes) {
        assertTrue(classes.size() >= 40, "only " + classes.size() + " classes were scanned");
    }

    @ArchTest
    static final ArchRule QUANTITIES_STAND_ALONE =
            classes()
                    .that()
                    .resideInAPackage("io.evenwarm.quantity..")
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage("io.evenwarm.quantity..", "java..", "org.jspecify..");

    @ArchTest
    static final ArchRule MESSAGES_KNOW_ONLY_QUANTITIES =
            classes()
                    .that()
                    .resideInAPackage("io.evenwarm.message..")
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage(
                            "io.evenwarm.message..",
                            "io.evenwarm.quantity..",
                            "java..",
                            "org.jspecify..");

    @ArchTest
    static final ArchRule FRAMES_KNOW_NO_MESSAGES =
            noClasses()
                    .that()
                    .resideInAPackage("io.evenwarm.frame..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            "io.evenwarm.message..", "io.evenwarm.codec..", "io.evenwarm.link..");

    @ArchTest
    static final ArchRule THE_CODEC_KNOWS_NO_LINK =
            noClasses()
                    .that()
                    .resideInAPackage("io.evenwarm.codec..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage("io.evenwarm.frame..", "io.evenwarm.link..");

    @ArchTest
    static final ArchRule ONLY_THE_CODEC_KNOWS_JACKSON =
            noClasses()
                    .that()
                    .resideOutsideOfPackage("io.evenwarm.codec..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAPackage("com.fasterxml..");

    @ArchTest
    static final ArchRule ONLY_LINKS_KNOW_SERIAL_PORTS_AND_CERTIFICATES =
            noClasses()
                    .that()
                    .resideOutsideOfPackage("io.evenwarm.link..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage("com.fazecast..", "org.bouncycastle..");

    /** The outside switch's feed is handed a trust that links made. */
    @ArchTest
    static final ArchRule ONLY_LINKS_AND_THE_SWITCHS_FEED_KNOW_TLS =
            noClasses()
                    .that()
                    .resideOutsideOfPackages("io.evenwarm.link..", "io.evenwarm.outside..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAPackage("javax.net.ssl..");

    @ArchTest
    static final ArchRule ONLY_NEARBY_KNOWS_MULTICAST_DNS =
            noClasses()
                    .that()
                    .resideOutsideOfPackage("io.evenwarm.nearby..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAPackage("javax.jmdns..");

    @ArchTest
    static final ArchRule SETTINGS_STAND_ALONE =
            classes()
                    .that()
                    .resideInAPackage("io.evenwarm.settings..")
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage(
                            "io.evenwarm.settings..", "java..", "org.jspecify..", "org.tomlj..");

    @ArchTest
    static final ArchRule ONLY_SETTINGS_KNOW_TOML =
            noClasses()
                    .that()
                    .resideOutsideOfPackage("io.evenwarm.settings..")
                    .should()
                    .dependOnClassesThat()
                    .resideInAPackage("org.tomlj..");

    @ArchTest
    static final ArchRule THE_PROTOCOL_KNOWS_NO_HARDWARE_WINDOW_OR_STORE =
            noClasses()
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage("com.pi4j..", "javafx..", "java.sql..", "org.sqlite..");

    @ArchTest
    static final ArchRule ONLY_THE_CLOCK_PACKAGE_ASKS_FOR_THE_TIME =
            noClasses()
                    .that()
                    .resideOutsideOfPackage("io.evenwarm.clock..")
                    .should()
                    .callMethod(System.class, "currentTimeMillis")
                    .orShould()
                    .callMethod(System.class, "nanoTime")
                    .orShould()
                    .callMethod(Instant.class, "now");

    @ArchTest
    static final ArchRule PACKAGES_HAVE_NO_CYCLES =
            slices().matching("io.evenwarm.(*)..").should().beFreeOfCycles();

    @ArchTest
    static final ArchRule NOTHING_WRITES_TO_STANDARD_STREAMS =
            NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS;
}
