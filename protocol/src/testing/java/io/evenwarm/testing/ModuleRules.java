package io.evenwarm.testing;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import java.time.Instant;
import java.util.List;

/** What holds in every module, and the two shapes that most rules of one module have. */
public final class ModuleRules {

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

    /** Standard output belongs to the commands' answers; logs go through the logging system. */
    @ArchTest
    static final ArchRule ONLY_APP_TOUCHES_STANDARD_STREAMS =
            noClasses()
                    .that()
                    .resideOutsideOfPackages("io.evenwarm.agent.app..", "io.evenwarm.monitor.app..")
                    .should()
                    .accessField(System.class, "out")
                    .orShould()
                    .accessField(System.class, "err");

    private ModuleRules() {}

    /** Nothing outside these packages knows anything of the others. */
    public static ArchRule only(List<String> packages, String... known) {
        return noClasses()
                .that()
                .resideOutsideOfPackages(packages.toArray(String[]::new))
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage(known);
    }

    /** Nothing in these packages knows anything of the others. */
    public static ArchRule never(List<String> packages, String... known) {
        return noClasses()
                .that()
                .resideInAnyPackage(packages.toArray(String[]::new))
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage(known);
    }
}
