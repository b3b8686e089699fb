package io.evenwarm.monitor.store;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import org.junit.jupiter.api.extension.ConditionEvaluationResult;
import org.junit.jupiter.api.extension.ExecutionCondition;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.extension.ExtensionContext;

/** Skips a test where Debian's package {@code postgresql} is missing, and names it. */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@ExtendWith(NeedsPostgres.Condition.class)
@interface NeedsPostgres {

    /** Looks for the server's programs. */
    final class Condition implements ExecutionCondition {

        @Override
        public ConditionEvaluationResult evaluateExecutionCondition(ExtensionContext context) {
            if (Postgres.programs().isPresent()) {
                return ConditionEvaluationResult.enabled("PostgreSQL is there");
            }
            String words = "skipped, it needs PostgreSQL: apt-get install postgresql";
            System.err.println(context.getDisplayName() + ": " + words);
            return ConditionEvaluationResult.disabled(words);
        }
    }
}
